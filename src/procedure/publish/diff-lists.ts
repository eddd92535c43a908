import type { Definition } from '../definition.ts';
import type { Caution, ForkStation, KitStation, LookUpStation } from '../station.ts';
import { type Tell, wasIs } from './difference.ts';
import { same } from './same.ts';
import { conditionInWords, plainly } from './words.ts';

/** What was matched by its key: each pair, what is only before, what is only after, and whether the order is another. */
function matched<T>(before: readonly T[], after: readonly T[], key: (item: T) => string) {
  const old = new Map(before.map((item) => [key(item), item]));
  const now = new Map(after.map((item) => [key(item), item]));
  const kept = [...old.keys()].filter((name) => now.has(name));
  const keptNow = [...now.keys()].filter((name) => old.has(name));
  return {
    both: kept.map((name) => [old.get(name) as T, now.get(name) as T] as const),
    gone: before.filter((item) => !now.has(key(item))),
    come: after.filter((item) => !old.has(key(item))),
    reordered: !same(kept, keptNow),
    /** The same key twice: told apart only as a whole. */
    doubled: old.size !== before.length || now.size !== after.length,
  };
}

const asList = <T>(value: readonly T[] | undefined): readonly T[] => (Array.isArray(value) ? value : []);

export function cautionDifferences(
  before: readonly Caution[] | undefined,
  after: readonly Caution[] | undefined,
  tell: Tell,
): void {
  const { both, gone, come, reordered } = matched(asList(before), asList(after), ({ text }) => text);
  for (const { word, text } of come) tell('caution', `new ${word}: “${text}”`);
  for (const { word, text } of gone) tell('caution', `this ${word} is gone: “${text}”`);
  for (const [old, now] of both)
    if (old.word !== now.word) tell('caution', `“${now.text}” ${wasIs(old.word, now.word)}`);
  if (reordered) tell('caution', 'the cautions come in another order');
}

export function kitDifferences(
  before: KitStation,
  after: KitStation,
  definitions: readonly [Definition, Definition],
  tell: Tell,
): void {
  const { both, gone, come, reordered } = matched(
    asList(before.items),
    asList(after.items),
    ({ key }) => key,
  );
  const when = (item: KitStation['items'][number], side: 0 | 1) =>
    conditionInWords(item.when, definitions[side]);
  for (const item of come) {
    const asked = item.when ? ` (${when(item, 1)})` : '';
    tell('kit', `new: ${item.calls}${asked}`);
  }
  for (const item of gone) tell('kit', `no longer asked for: ${item.calls}`);
  for (const [old, now] of both) {
    if (old.calls !== now.calls) tell('kit', `“${old.calls}” is now called “${now.calls}”`);
    if (old.tool !== now.tool)
      tell('limit', `${now.calls}: the tool ${wasIs(plainly(old.tool), plainly(now.tool))}`);
    if (old.kind !== now.kind) tell('kit', `${now.calls}: ${wasIs(old.kind, now.kind)}`);
    if (!same(old.when, now.when)) tell('kit', `${now.calls}: ${wasIs(when(old, 0), when(now, 1))}`);
  }
  if (reordered) tell('kit', 'it is called off in another order');
}

export function choiceDifferences(before: ForkStation, after: ForkStation, tell: Tell): void {
  const key = ({ value }: ForkStation['choices'][number]) => JSON.stringify(value);
  const { both, gone, come, reordered, doubled } = matched(
    asList(before.choices),
    asList(after.choices),
    key,
  );
  for (const choice of come) tell('way', `new choice: “${choice.phrase}”`);
  for (const choice of gone) tell('way', `the choice “${choice.phrase}” is gone`);
  for (const [old, now] of both)
    if (old.phrase !== now.phrase) tell('word', `say “${now.phrase}” where it was “${old.phrase}”`);
  if (doubled) tell('build', 'one choice is given twice');
  if (reordered) tell('word', 'the choices come in another order');
}

export function needDifferences(
  before: LookUpStation,
  after: LookUpStation,
  definitions: readonly [Definition, Definition],
  tell: Tell,
): void {
  const says = (figure: string, side: 0 | 1) => definitions[side].meta.figures?.[figure]?.says ?? figure;
  const { both, gone, come, reordered } = matched(
    asList(before.needs),
    asList(after.needs),
    ({ figure }) => figure,
  );
  for (const { figure } of come) tell('work', `also asks for: ${says(figure, 1)}`);
  for (const { figure } of gone) tell('work', `no longer asks for: ${says(figure, 0)}`);
  for (const [old, now] of both)
    if (!same(old.when, now.when)) {
      const [was, is] = [
        conditionInWords(old.when, definitions[0]),
        conditionInWords(now.when, definitions[1]),
      ];
      tell('work', `${says(now.figure, 1)}: ${wasIs(was, is)}`);
    }
  if (reordered) tell('work', 'the figures are asked for in another order');
}
