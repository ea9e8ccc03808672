import type { SlabFlow } from './slab-flow.ts';

/** I - g A of the slab, A being the flow's matrix: two chains of three, heat and water, which only the face couples. */
export class SlabMatrix {
  private readonly flow: SlabFlow;
  private readonly pivotT: Float64Array;
  private readonly upperT: Float64Array;
  private readonly lowerT: Float64Array;
  private readonly pivotW: Float64Array;
  private readonly upperW: Float64Array;
  private readonly lowerW: Float64Array;
  private crossT = 0;
  private crossW = 0;

  constructor(flow: SlabFlow) {
    const array = () => new Float64Array(flow.last + 1);
    this.flow = flow;
    [this.pivotT, this.upperT, this.lowerT, this.pivotW, this.upperW, this.lowerW] = [array(), array(), array(), array(), array(), array()];
  }

  /** Factors I - g A for both chains down to the last row, which the face couples. */
  factor(g: number): void {
    const { widthM, heatCapacity, conduct, carry, diffuse, last, face } = this.flow;
    const { lowerT, lowerW, upperT, upperW, pivotT, pivotW } = this;
    // Conductances to the node before: of heat with and against the water that carries some, and of water.
    let [heatBack, waterBack] = [0, 0];
    let [topT, topW] = [0, 0];
    for (let i = 0; i <= last; i += 1) {
      const scaleT = g / (widthM[i]! * heatCapacity[i]!);
      const scaleW = g / widthM[i]!;
      const end = i === last;
      const heatOn = end ? face.heatByT : conduct[i]! - carry[i]!;
      const waterOn = end ? face.waterByW : diffuse[i]!;
      let diagonalT = 1 + scaleT * (heatBack + heatOn);
      let diagonalW = 1 + scaleW * (waterBack + waterOn);
      if (i > 0) {
        const factorT = (-scaleT * heatBack) / pivotT[i - 1]!;
        const factorW = (-scaleW * waterBack) / pivotW[i - 1]!;
        diagonalT -= factorT * topT;
        diagonalW -= factorW * topW;
        lowerT[i] = factorT;
        lowerW[i] = factorW;
      }
      topT = -scaleT * heatOn;
      topW = -scaleW * waterOn;
      upperT[i] = topT;
      upperW[i] = topW;
      pivotT[i] = diagonalT;
      pivotW[i] = diagonalW;
      if (end) break;
      heatBack = conduct[i]! + carry[i]!;
      waterBack = diffuse[i]!;
    }
    this.crossT = (g / (widthM[last]! * heatCapacity[last]!)) * face.heatByW;
    this.crossW = (g / widthM[last]!) * face.waterByT;
  }

  /** Solves for the stage from the rates as they stand. */
  solve(outT: Float64Array, outW: Float64Array): void {
    const { last, rateT, rateW } = this.flow;
    const { lowerT, lowerW, upperT, upperW, pivotT, pivotW } = this;
    outT[0] = rateT[0]!;
    outW[0] = rateW[0]!;
    for (let i = 1; i <= last; i += 1) {
      outT[i] = rateT[i]! - lowerT[i]! * outT[i - 1]!;
      outW[i] = rateW[i]! - lowerW[i]! * outW[i - 1]!;
    }
    const determinant = pivotT[last]! * pivotW[last]! - this.crossT * this.crossW;
    const [endT, endW] = [outT[last]!, outW[last]!];
    outT[last] = (endT * pivotW[last]! - endW * this.crossT) / determinant;
    outW[last] = (endW * pivotT[last]! - endT * this.crossW) / determinant;
    for (let i = last - 1; i >= 0; i -= 1) {
      outT[i] = (outT[i]! - upperT[i]! * outT[i + 1]!) / pivotT[i]!;
      outW[i] = (outW[i]! - upperW[i]! * outW[i + 1]!) / pivotW[i]!;
    }
  }
}
