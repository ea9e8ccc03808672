import * as c from '../../contract/calculations/yield.ts';
import { estimateYield, questionStage } from '../../domain/yield-evidence.ts';
import { expectedWeights } from '../../domain/yield-stages.ts';
import { calculation } from './calculation.ts';

export const yieldCalculations = [
  calculation({
    name: 'yield-expected', summary: "The yield to expect, from published figures and a club's own batches", body: c.yieldExpectedBody, answer: c.yieldExpectedAnswer,
    reckon: ({ batches, ...question }) => estimateYield({ question, batches }),
  }),
  calculation({
    name: 'yield-question', summary: 'Whether a weight after a stage is worth weighing again', body: c.yieldQuestionBody, answer: c.yieldQuestionAnswer,
    reckon: ({ batches, massInG, massOutG, ...question }) => questionStage({ question, batches, massInG, massOutG }),
  }),
  calculation({ name: 'yield-weights', summary: 'The weight to expect after each stage', body: c.yieldWeightsBody, answer: c.yieldWeightsAnswer, reckon: expectedWeights }),
];
