import type { Finding } from './rule.ts';

/** A finding as it was made in another lot, where it is put right. */
export const ofLot = (finding: Finding, lot: string): Finding => ({
  ...finding, evidenceAt: 'contents', part: `${finding.part} ${lot}`, about: `lot ${lot}`, found: `lot ${lot}: ${finding.found}`, whatToDo: finding.state === 'not-recorded' ? `See lot ${lot}. ${finding.whatToDo}` : finding.whatToDo,
});
