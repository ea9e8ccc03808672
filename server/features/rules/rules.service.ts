import type { z } from 'zod';
import type { RuleLimitRecord, RuleRecord, limitBody, limitChanged } from '../../contract/rules.ts';
import { adviceRows } from '../../domain/rules/people.ts';
import { checkClubLimit } from '../../domain/rules/limits.ts';
import { RULES, findLimit } from '../../domain/rules/registry.ts';
import type { RuleLimit } from '../../domain/rules/rule.ts';
import { need } from '../../platform/auth/access.ts';
import type { Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { notFound } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import * as batches from '../batches/batches.store.ts';
import { JUDGING_MS, judgeLiveBatches } from '../batches/rules.service.ts';
import * as store from './rules.store.ts';

const withClub = (limit: RuleLimit, own: readonly store.ClubLimitRow[]): RuleLimitRecord => {
  const row = own.find((r) => r.id === limit.id);
  return { ...limit, club: row ? { value: row.value, by: { id: row.setById, name: row.setByName }, at: row.setAt.toISOString(), version: row.version } : null };
};

/** Every rule that batches are held against, with the club's own limits, what no record shows, and the advice for those who eat. */
export async function listRules(context: Context): Promise<{ items: RuleRecord[] }> {
  const own = await store.clubLimits(context.database.query);
  return {
    items: [...RULES, ...adviceRows()].map(({ appliesTo, limits, ...rule }) => ({
      ...rule, words: rule.words ?? '', evidenceStage: rule.evidenceStage ?? null, evidencePlace: rule.evidencePlace ?? null, limits: limits.map((limit) => withClub(limit, own)),
      appliesTo: { products: [...appliesTo.products], hazard: appliesTo.hazard ?? null, packages: [...(appliesTo.packages ?? [])], stages: [...(appliesTo.stages ?? [])] },
    })),
  };
}

/** Tightens a limit, or gives the rule's own back; what may still be eaten is judged anew in the same change. */
export async function changeLimit(unit: Unit, id: string, body: z.infer<typeof limitBody>): Promise<z.infer<typeof limitChanged>> {
  const actor = need(unit.actor, 'captain');
  const limit = findLimit(id);
  if (!limit) throw notFound('This limit');
  if (body.value !== null) checkClubLimit(id, body.value);
  return unit.runRaw(
    async (query) => {
      await batches.holdClub(query);
      const was = await present(query, id);
      if (body.version !== (was?.version ?? 0)) throw refuseStale('limit', body, { value: was?.value ?? null, version: was?.version ?? 0 });
      if (body.value === null) await store.dropLimit(query, id);
      else await store.putLimit(query, id, body.value, actor.id, unit.now);
      const { judged, stopped } = await judgeLiveBatches(query, unit.now);
      return { limit: withClub(limit, await store.clubLimits(query)), judged, stopped };
    },
    { reason: body.reason, timeoutMs: JUDGING_MS },
  );
}

const present = async (query: RawQuery, id: string) => (await store.clubLimits(query)).find((row) => row.id === id) ?? null;
