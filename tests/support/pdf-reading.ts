// Reads a PDF the way others do: pdf.js draws it and gives its text, ZXing reads the codes in the picture.
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import { createCanvas } from '@napi-rs/canvas';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';

const require = createRequire(import.meta.url);
// Left alone the reader would fetch its program from the network.
prepareZXingModule({
  overrides: { wasmBinary: readFileSync(require.resolve('zxing-wasm/reader/zxing_reader.wasm')).buffer as ArrayBuffer },
});

export interface ReadCode {
  text: string;
  /** Error correction level as the reader found it: 'L', 'M', 'Q' or 'H'. */
  level: string;
  /** Centre of the code on the page. */
  xMm: number;
  yMm: number;
}

export interface ReadPage {
  widthMm: number;
  heightMm: number;
  text: string;
  codes: ReadCode[];
  /** Darkness of the drawn page at a place: 0 white, 255 black. */
  darkness: (xMm: number, yMm: number) => number;
}

/** What a drawing surface and the reader agree on; the compiler here knows no browser types. */
interface Picture {
  data: Uint8ClampedArray;
  width: number;
  height: number;
}

const MM_PER_PT = 25.4 / 72;

/** Every page of a PDF, drawn at the given dots per inch, with its text and the codes read from the picture. */
export async function readPdf(bytes: Uint8Array, dotsPerInch = 200): Promise<ReadPage[]> {
  const task = getDocument({ data: new Uint8Array(bytes), useSystemFonts: false, verbosity: 0 });
  const document = await task.promise;
  const pages: ReadPage[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const viewport = page.getViewport({ scale: dotsPerInch / 72 });
    const canvas = createCanvas(Math.ceil(viewport.width), Math.ceil(viewport.height));
    await page.render({ canvas: canvas as never, viewport, background: 'white' }).promise;
    const image = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
    const content = await page.getTextContent();
    const perMm = dotsPerInch / 25.4;
    pages.push({
      widthMm: page.view[2]! * MM_PER_PT,
      heightMm: page.view[3]! * MM_PER_PT,
      text: content.items.map((item) => ('str' in item ? item.str + (item.hasEOL ? '\n' : '') : '')).join(''),
      codes: await readCodes(image, perMm),
      darkness: (xMm, yMm) => 255 - image.data[(Math.round(yMm * perMm) * canvas.width + Math.round(xMm * perMm)) * 4]!,
    });
  }
  await task.destroy();
  return pages;
}

async function readCodes(image: Picture, perMm: number): Promise<ReadCode[]> {
  const found = await readBarcodes(image as Parameters<typeof readBarcodes>[0], { formats: ['QRCode'], maxNumberOfSymbols: 255, tryHarder: true });
  return found.filter((code) => code.isValid).map(({ text, ecLevel, position }) => {
    const corners = [position.topLeft, position.topRight, position.bottomLeft, position.bottomRight];
    return {
      text,
      level: String(ecLevel),
      xMm: corners.reduce((sum, corner) => sum + corner.x, 0) / 4 / perMm,
      yMm: corners.reduce((sum, corner) => sum + corner.y, 0) / 4 / perMm,
    };
  });
}
