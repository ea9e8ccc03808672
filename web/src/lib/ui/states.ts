/**
 * Every state a record can be in, with its word, shape and colour. The shapes are the marks of buoys and beacons,
 * told apart without colour: can, ball, cone, cross, and so on.
 */
export type Tone = 'tide' | 'ember' | 'kelp' | 'buoy' | 'wreck' | 'muted' | 'ink';
export type Shape =
  | 'can'
  | 'ball'
  | 'ring'
  | 'half'
  | 'cone-up'
  | 'cone-down'
  | 'cross'
  | 'cones-out'
  | 'gap'
  | 'diamond'
  | 'bar';

interface StateLook {
  word: string;
  shape: Shape;
  tone: Tone;
}

export const states = {
  met: { word: 'met', shape: 'can', tone: 'kelp' },
  good: { word: 'good', shape: 'can', tone: 'kelp' },
  clear: { word: 'safe to share', shape: 'can', tone: 'kelp' },
  'not-met': { word: 'not met', shape: 'cross', tone: 'wreck' },
  'not-recorded': { word: 'not recorded', shape: 'gap', tone: 'buoy' },
  'not-yet': { word: 'not yet', shape: 'gap', tone: 'buoy' },
  hold: { word: 'hold: not met', shape: 'cross', tone: 'wreck' },
  'hold-unrecorded': { word: 'hold: not recorded', shape: 'gap', tone: 'buoy' },
  'do-not-share': { word: 'do not share', shape: 'cross', tone: 'wreck' },
  recalled: { word: 'recalled', shape: 'cones-out', tone: 'wreck' },
  refused: { word: 'refused', shape: 'cross', tone: 'wreck' },
  past: { word: 'past its date', shape: 'cone-down', tone: 'wreck' },
  unknown: { word: 'no date', shape: 'gap', tone: 'buoy' },
  overdue: { word: 'overdue', shape: 'cone-down', tone: 'wreck' },
  due: { word: 'due', shape: 'cone-up', tone: 'buoy' },
  waiting: { word: 'waiting', shape: 'ring', tone: 'buoy' },
  estimate: { word: 'estimate', shape: 'gap', tone: 'buoy' },
  ready: { word: 'ready', shape: 'ball', tone: 'kelp' },
  done: { word: 'done', shape: 'can', tone: 'kelp' },
  running: { word: 'running', shape: 'diamond', tone: 'ember' },
  'under-way': { word: 'under way', shape: 'diamond', tone: 'tide' },
  cold: { word: 'cold', shape: 'diamond', tone: 'tide' },
  booked: { word: 'booked', shape: 'bar', tone: 'tide' },
  planned: { word: 'planned', shape: 'ring', tone: 'tide' },
  open: { word: 'open', shape: 'ring', tone: 'tide' },
  claimed: { word: 'claimed', shape: 'half', tone: 'tide' },
  // The API's word for a claim that no captain has confirmed yet: on screen its pack and it read alike.
  asked: { word: 'claimed', shape: 'half', tone: 'tide' },
  moved: { word: 'moved', shape: 'bar', tone: 'muted' },
  confirmed: { word: 'confirmed', shape: 'ball', tone: 'tide' },
  'handed-over': { word: 'handed over', shape: 'can', tone: 'muted' },
  used: { word: 'used', shape: 'bar', tone: 'muted' },
  discarded: { word: 'discarded', shape: 'cross', tone: 'muted' },
  withdrawn: { word: 'withdrawn', shape: 'cross', tone: 'muted' },
  expired: { word: 'expired', shape: 'cone-down', tone: 'muted' },
  closed: { word: 'closed', shape: 'bar', tone: 'muted' },
  left: { word: 'left the club', shape: 'bar', tone: 'muted' },
} as const satisfies Record<string, StateLook>;

export type StateName = keyof typeof states;
