// Draws labels into a PDF. Takes packs as they are; who may print what is decided elsewhere.
import { setImmediate } from 'node:timers/promises';
import PDFDocument from 'pdfkit';
import { printable } from '../../domain/labels/characters.ts';
import { labelWords } from '../../domain/labels/label.ts';
import type { LabelPack, LabelWords, WeightOrder } from '../../domain/labels/label.ts';
import { labelError } from '../../domain/labels/label-error.ts';
import { checkGeometry } from '../../domain/labels/layouts.ts';
import type { SheetLayout } from '../../domain/labels/layouts.ts';
import { PT_PER_MM } from '../../domain/labels/compose.ts';
import { planLabel } from '../../domain/labels/plan.ts';
import type { LabelPlan } from '../../domain/labels/plan.ts';
import { labelPositions } from '../../domain/labels/positions.ts';
import { remembering } from '../../domain/labels/blocks.ts';
import { checkGrams } from '../../domain/working.ts';
import { labelCode } from './label-code.ts';
import type { LabelCode } from './label-code.ts';
import { hasGlyph, labelFont, measureWord } from './label-font.ts';

export interface LabelRun {
  packs: LabelPack[];
  layout: SheetLayout;
  /** First free place on the first sheet: 1 is the top left. */
  startAt: number;
  /** Labels of each pack, one after another. */
  copies: number;
  weightOrder?: WeightOrder;
  /** Goes into the document; the same run at the same instant makes the same bytes. */
  createdAt: Date;
}

export interface DrawnLabel {
  code: LabelCode;
  plan: LabelPlan;
}

/** Labels drawn before other requests get a turn. */
const BREATHER = 16;

/**
 * A PDF of labels, as a whole. Nothing is written when any label is refused.
 * Throws DomainError for a layout, position, number or pack that cannot be printed.
 */
export async function renderLabels(run: LabelRun): Promise<Buffer> {
  checkGeometry(run.layout);
  if (!Number.isInteger(run.copies) || run.copies < 1) {
    throw labelError('copies', run.copies, 'is not a count', 'give a whole number from 1');
  }
  const positions = labelPositions(run.layout, run.startAt, run.packs.length * run.copies);
  const document = openDocument(run);
  const bytes = collect(document);
  const measure = remembering(measureWord);
  let page = 0;
  for (const [index, pack] of run.packs.entries()) {
    const label = prepareLabel(pack, run.layout, run.weightOrder, measure);
    for (let copy = 0; copy < run.copies; copy++) {
      const number = index * run.copies + copy;
      const position = positions[number]!;
      for (; page < position.page; page++) document.addPage();
      drawLabel(document, label, position.xMm * PT_PER_MM, position.yMm * PT_PER_MM);
      if (number % BREATHER === BREATHER - 1) await setImmediate();
    }
  }
  document.end();
  return bytes;
}

/** The code and the places of all words of one label. Throws DomainError when the pack cannot be printed on it. */
export function prepareLabel(pack: LabelPack, layout: SheetLayout, weightOrder: WeightOrder = 'metric', measure = measureWord): DrawnLabel {
  if (checkGrams(pack.netGrams, 'netGrams', 'net weight (g)') === 0) {
    throw labelError('netGrams', pack.netGrams, 'is nothing', 'weigh the pack first');
  }
  const code = labelCode(pack.url);
  const planned = (ingredients: string) => planLabel(printableWords(labelWords({ ...pack, ingredients }, weightOrder)), layout, code.modules, measure);
  const plan = planned(pack.ingredients);
  if (!plan.cut || pack.ingredients === '') return { code, plan };
  // Part of a list reads as if it were the whole, and takes room from who made it: the page behind the code has all of it.
  for (const instead of [INGREDIENTS_ELSEWHERE, '']) {
    const shorter = planned(instead);
    if (!shorter.cut) return { code, plan: shorter };
  }
  return { code, plan };
}
const INGREDIENTS_ELSEWHERE = 'scan the code';

function printableWords(words: LabelWords): LabelWords {
  const clean = (text: string) => printable(text, hasGlyph);
  return {
    ...words,
    product: clean(words.product),
    species: clean(words.species),
    warning: words.warning && { ...words.warning, reasons: words.warning.reasons.map(clean) },
    identity: words.identity.map(clean),
    storage: clean(words.storage),
    small: words.small.map(clean).filter((text) => text !== ''),
  };
}

type Document = InstanceType<typeof PDFDocument>;

function openDocument({ layout, createdAt }: LabelRun): Document {
  const document = new PDFDocument({
    size: [layout.pageWidthMm * PT_PER_MM, layout.pageHeightMm * PT_PER_MM],
    margin: 0,
    lang: 'en',
    displayTitle: true,
    info: { Title: 'Labels', Creator: 'Tidelarder', CreationDate: createdAt },
  });
  // Printing "to fit" would move every label off its place: ask the reader for the true size.
  // The type package does not know the catalogue, which is where this wish is written.
  const catalogue = (document as unknown as { _root: { data: { ViewerPreferences?: { data: Record<string, unknown> } } } })._root.data;
  if (catalogue.ViewerPreferences) catalogue.ViewerPreferences.data.PrintScaling = 'None';
  document.registerFont('regular', labelFont('regular') as unknown as ArrayBuffer);
  document.registerFont('bold', labelFont('bold') as unknown as ArrayBuffer);
  return document;
}

function collect(document: Document): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    document.on('data', (chunk: Buffer) => chunks.push(chunk));
    document.on('end', () => resolve(Buffer.concat(chunks)));
    document.on('error', reject);
  });
}

/** Draws one prepared label with its top left corner at a place on the page, in points. */
export function drawLabel(document: Document, { code, plan }: DrawnLabel, xPt: number, yPt: number): void {
  for (const panel of plan.panels) {
    document.roundedRect(xPt + panel.xPt, yPt + panel.yPt, panel.widthPt, panel.heightPt, 2).fill('black');
  }
  for (const text of plan.texts) {
    document.fillColor(text.ink).font(text.font).fontSize(text.sizePt);
    document.text(text.text, xPt + text.xPt, yPt + text.baselinePt, { lineBreak: false, baseline: 'alphabetic' });
  }
  const { modulePt, quietPt } = plan.code;
  document.save().fillColor('black');
  document.translate(xPt + plan.code.xPt + quietPt, yPt + plan.code.yPt + quietPt + code.modules * modulePt);
  document.scale(modulePt, -modulePt);
  document.addContent(code.path);
  document.restore();
}
