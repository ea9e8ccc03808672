// The part of fontkit that the labels use; the package brings no types.
declare module 'fontkit' {
  export interface BoundingBox {
    minX: number;
    minY: number;
    maxX: number;
    maxY: number;
  }
  export interface GlyphRun {
    advanceWidth: number;
    bbox: BoundingBox;
  }
  export interface Font {
    unitsPerEm: number;
    layout(text: string): GlyphRun;
    hasGlyphForCodePoint(codePoint: number): boolean;
  }
  export function create(bytes: Uint8Array): Font;
}
