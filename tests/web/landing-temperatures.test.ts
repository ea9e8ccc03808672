import { expect, it } from 'vitest';
import { emptyLanding, temperatureQuestion } from '../../web/src/lib/fish/landing-form.ts';

const show = (celsius: number) => `${celsius} °C`;
const of = (more: object) => ({ ...emptyLanding(''), ...more });

it('asks of each temperature of a landing that is unlikely, and of none that stood there before', () => {
  expect(temperatureQuestion(of({}), show)).toBeNull();
  expect(temperatureQuestion(of({ coreC: 3, airC: 12, waterC: 10 }), show)).toBeNull();
  const odd = of({ coreC: 34, airC: 50, waterC: 10 });
  expect(temperatureQuestion(odd, show)).toMatch(/^Fish, inside: 34 °C is warmer .* Is it right\? Air: 50 °C /);
  expect(temperatureQuestion(odd, show, of({ coreC: 34, airC: 50 }))).toBeNull();
  expect(temperatureQuestion(odd, show, of({ coreC: 3, airC: 50 }))).toMatch(/^Fish, inside: 34 °C [^:]*$/);
});
