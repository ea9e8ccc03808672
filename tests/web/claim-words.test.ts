import { describe, expect, it } from 'vitest';
import { claimStatus } from '../../server/contract/packs.ts';
import { claimWord, packMark } from '../../web/src/lib/packs/claim-words.ts';
import { states } from '../../web/src/lib/ui/states.ts';

const claim = (status: 'asked' | 'confirmed') => ({ id: 'c', version: 1, member: { id: 'm', name: 'Ann Holm' }, status });
const shown = (mark: ReturnType<typeof packMark>) => mark.word ?? states[mark.state].word;

describe('a claim has one word for how it stands', () => {
  it('its row, its pack and the pack of a list say claimed until a captain has said so, and confirmed from then on', () => {
    for (const status of ['asked', 'confirmed'] as const) {
      const word = status === 'asked' ? 'claimed' : 'confirmed';
      const looks = [states[status], states[packMark({ status: 'claimed', claim: claim(status), mine: false }).state]];
      expect(looks.map((look) => look.word)).toEqual([word, word]);
      expect(looks[0]).toEqual(looks[1]);
      expect(shown(packMark({ status: 'claimed', claim: claim(status), mine: true }))).toBe(`${word} ${status === 'asked' ? 'by' : 'for'} you`);
      expect(shown(packMark({ status: 'claimed', claim: claim(status), mine: false }))).toBe(`${word} ${status === 'asked' ? 'by' : 'for'} Ann Holm`);
    }
  });

  it('names nobody to whom the claim is not told, and leaves other packs as they are', () => {
    expect(shown(packMark({ status: 'claimed', claim: null, mine: false }))).toBe('claimed');
    expect(packMark({ status: 'ready', claim: null, mine: false })).toEqual({ state: 'ready' });
  });

  it('no word of the API for it is on screen', () => {
    expect(claimStatus.options.map(claimWord)).toEqual(['not confirmed yet', 'confirmed', 'refused', 'withdrawn', 'moved', 'handed over']);
    expect(Object.values(states).map((look) => look.word)).not.toContain('asked');
  });
});
