import PDFDocument from 'pdfkit';
import { encode } from 'uqr';
import { PT_PER_MM } from '../../server/domain/labels/compose.ts';
import { READY_LAYOUTS } from '../../server/domain/labels/layouts.ts';
import { labelPositions } from '../../server/domain/labels/positions.ts';
import { labelFont } from '../../server/features/labels/label-font.ts';
import { prepareLabel, renderLabels } from '../../server/features/labels/label-pdf.ts';
import type { DrawnLabel } from '../../server/features/labels/label-pdf.ts';
import { manyPacks } from '../support/label-packs.ts';
import { median } from './figure.ts';
import type { Figure } from './figure.ts';

const LABELS = 500;
const ROUNDS = 5;
const layout = READY_LAYOUTS.find((l) => l.rows === 7 && l.columns === 2)!;
const packs = manyPacks(LABELS);

/**
 * 500 labels from packs to PDF, against the PDF library drawing the same codes and words where they are known to go. The
 * reference makes the codes from their addresses by the code library, as the service must: the PDF library has none. How
 * the service stands to the drawing alone, with the codes ready, is shown beside it.
 */
export async function measureLabels(): Promise<Figure> {
  const prepared = packs.map((pack) => prepareLabel(pack, layout)).map((label) => ({ label, dark: rectangles(label) }));
  const works = {
    whole: () => renderLabels({ packs, layout, startAt: 1, copies: 1, createdAt: new Date('2026-11-25T12:00:00Z') }),
    known: () => drawAlone(prepared),
    encoded: () => drawAlone(prepared.map((known, i) => {
      encode(packs[i]!.url, { ecc: 'M', boostEcc: false, border: 0 });
      return known;
    })),
  };
  const times = { whole: [] as number[], known: [] as number[], encoded: [] as number[] };
  // The first round warms everything up and is not counted.
  for (let round = 0; round <= ROUNDS; round += 1) {
    for (const key of ['whole', 'known', 'encoded'] as const) {
      const ms = await timed(works[key]);
      if (round > 0) times[key].push(ms);
    }
  }
  const ratio = (key: 'known' | 'encoded') => median(times.whole.map((ms, i) => ms / times[key][i]!));
  const ms = (key: keyof typeof times) => `${median(times[key]).toFixed(0)} ms`;
  return {
    id: 'labels-500', ratio: ratio('encoded'), target: 1.3, better: 'lower',
    detail: `${ms('whole')} of processor time, the libraries ${ms('encoded')}; drawing alone, codes ready, ${ms('known')}: ${ratio('known').toFixed(2)}`,
  };
}

/** Processor time: nothing here waits, and what else the machine does counts for less. */
async function timed(work: () => Promise<Buffer>): Promise<number> {
  const start = process.cpuUsage();
  const bytes = await work();
  const { user, system } = process.cpuUsage(start);
  if (bytes.subarray(0, 5).toString() !== '%PDF-') throw new Error('That is no PDF.');
  return (user + system) / 1000;
}

type Rectangle = [x: number, y: number, width: number, height: number];
type Prepared = { label: DrawnLabel; dark: Rectangle[] };

/** The dark parts of a code in modules, y upwards. */
function rectangles({ code }: DrawnLabel): Rectangle[] {
  return code.path.split('\n').filter((line) => line.endsWith(' re')).map((line) => line.split(' ').slice(0, 4).map(Number) as Rectangle);
}

function drawAlone(prepared: readonly Prepared[]): Promise<Buffer> {
  const document = new PDFDocument({ size: [layout.pageWidthMm * PT_PER_MM, layout.pageHeightMm * PT_PER_MM], margin: 0 });
  const chunks: Buffer[] = [];
  const bytes = new Promise<Buffer>((resolve) => document.on('data', (chunk: Buffer) => chunks.push(chunk)).on('end', () => resolve(Buffer.concat(chunks))));
  for (const name of ['regular', 'bold'] as const) document.registerFont(name, labelFont(name) as unknown as ArrayBuffer);
  let page = 0;
  for (const [i, position] of labelPositions(layout, 1, prepared.length).entries()) {
    for (; page < position.page; page += 1) document.addPage();
    const { label: { plan, code }, dark } = prepared[i]!;
    const [x, y] = [position.xMm * PT_PER_MM, position.yMm * PT_PER_MM];
    for (const text of plan.texts) {
      document.fillColor(text.ink).font(text.font).fontSize(text.sizePt);
      document.text(text.text, x + text.xPt, y + text.baselinePt, { lineBreak: false, baseline: 'alphabetic' });
    }
    const { modulePt, quietPt, xPt, yPt } = plan.code;
    document.save().fillColor('black').translate(x + xPt + quietPt, y + yPt + quietPt + code.modules * modulePt).scale(modulePt, -modulePt);
    for (const [left, bottom, width, height] of dark) document.rect(left, bottom, width, height);
    document.fill().restore();
  }
  document.end();
  return bytes;
}
