import type { BatchEvidence } from './evidence.ts';
import { limitOf } from './limits.ts';
import type { ClubLimits, Finding } from './rule.ts';

const NITRITE_PPM = [100, 200] as const;
export const withoutAir = (kind: string) => kind === 'vacuum' || kind === 'jar';

type Figures = Pick<BatchEvidence, 'measurements' | 'measurementsBefore'>;
/**
 * The laboratory's figures of the loin: the lowest salt, and the span of nitrite. Those of a lot that was smoked with it count
 * beside its own and never instead of them: they can only be worse. So do those of a sample from before the last fish joined.
 */
function loin({ measurements, measurementsBefore }: Figures): { saltPct: number | null; nitritePpm: [number, number] | null } {
  const of = (kind: 'water-phase-salt' | 'nitrite') => {
    const own = measurements.filter((m) => m.kind === kind && m.part === 'loin');
    if (own.every((m) => m.ofAll === false)) return [];
    return [...own, ...measurementsBefore.filter((m) => m.kind === kind && m.part === 'loin' && m.smoked)].map((m) => m.value);
  };
  const [salt, nitrite] = [of('water-phase-salt'), of('nitrite')];
  return { saltPct: salt.length > 0 ? Math.min(...salt) : null, nitritePpm: nitrite.length > 0 ? [Math.min(...nitrite), Math.max(...nitrite)] : null };
}

const FIGURE = 'Have a laboratory measure the water-phase salt of the loin.';

/** What is said where no figure counts: one that stands there may be of another day than the fish as it is. */
const noFigure = ({ measurements }: Figures) => `no laboratory figure${measurements.some((m) => m.kind === 'water-phase-salt' && m.part === 'loin') ? ' taken after all of it was smoked' : ''}`;

/** salt.air: whether a laboratory measured enough salt for more than 7 days with air. Bears on dates, not on the verdict. */
export function saltAir(figures: Figures, club: ClubLimits): Finding {
  const { value, tightened } = limitOf(club, 'salt.air.percent');
  const { saltPct } = loin(figures);
  const shared = { ruleId: 'salt.air', part: 'salt', limit: `at least ${value} % water-phase salt in the loin for more than 7 days`, tightened, working: null };
  if (saltPct === null) return { ...shared, state: 'not-recorded', found: noFigure(figures), whatToDo: `Its use-by stays at 7 days. ${FIGURE}` };
  const met = saltPct >= value;
  return { ...shared, state: met ? 'met' : 'not-met', found: `${saltPct} %`, whatToDo: met ? '' : 'Its use-by stays at 7 days.' };
}

/** salt.rop: whether a laboratory measured enough salt, or less with enough nitrite, to keep a pack without air unfrozen. */
export function saltRop(figures: Figures, club: ClubLimits): Finding {
  const [alone, withNitrite] = [limitOf(club, 'salt.rop.percent'), limitOf(club, 'salt.rop.with-nitrite-percent')];
  const { saltPct, nitritePpm } = loin(figures);
  const shared = {
    ruleId: 'salt.rop', part: 'salt', limit: `at least ${alone.value} % water-phase salt in the loin, or ${withNitrite.value} % with ${NITRITE_PPM[0]} to ${NITRITE_PPM[1]} ppm nitrite, measured by a laboratory`,
    tightened: alone.tightened || withNitrite.tightened, working: null,
  };
  if (saltPct === null) return { ...shared, state: 'not-recorded', found: noFigure(figures), whatToDo: `Freeze packs without air at once. ${FIGURE}` };
  const nitriteGood = nitritePpm !== null && nitritePpm[0] >= NITRITE_PPM[0] && nitritePpm[1] <= NITRITE_PPM[1];
  const met = saltPct >= alone.value || (saltPct >= withNitrite.value && nitriteGood);
  const found = `${saltPct} %${nitritePpm ? `, ${nitritePpm[0] === nitritePpm[1] ? nitritePpm[0] : nitritePpm.join(' to ')} ppm nitrite` : ''}`;
  return { ...shared, state: met ? 'met' : 'not-met', found, whatToDo: met ? '' : 'Do not share what was kept in packs without air unfrozen. Freeze such packs at once.' };
}

/** What the packs of a batch ask for: salt.rop for those without air that are not frozen, rop.freeze for the rest of them. */
export function packFindings(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  const closed = evidence.packs.filter((pack) => withoutAir(pack.packageKind));
  const unfrozen = closed.filter((pack) => pack.storage !== 'frozen');
  const late = closed.filter((pack) => pack.storage === 'frozen' && pack.frozenLate === true).length;
  const findings: Finding[] = [];
  if (unfrozen.length + late > 0 && evidence.product === 'hot-smoked') findings.push(saltRop(evidence, club));
  if (closed.length > 0) {
    const smoked = evidence.product === 'hot-smoked';
    const loose = smoked ? 0 : unfrozen.length;
    // With a laboratory's salt it may have stood unfrozen before.
    const tooLate = smoked && saltRop(evidence, club).state === 'met' ? 0 : late;
    const met = loose + tooLate === 0;
    if (!met || closed.length > unfrozen.length) {
      findings.push({
        ruleId: 'rop.freeze', part: 'frozen', state: met ? 'met' : 'not-met', found: met ? `${closed.length - unfrozen.length} without air, frozen` : [...(loose > 0 ? [`${loose} without air, not frozen`] : []), ...(tooLate > 0 ? [`${tooLate} without air, not frozen at once`] : [])].join('; '),
        limit: 'a pack without air is frozen at once, or rests on a laboratory figure for salt', whatToDo: met ? '' : 'Do not share those packs.', tightened: false, working: null,
      });
    }
  }
  if (evidence.product === 'hot-smoked' && evidence.packs.some((pack) => !withoutAir(pack.packageKind) && pack.storage !== 'frozen')) findings.push(saltAir(evidence, club));
  return findings;
}
