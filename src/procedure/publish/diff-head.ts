import type { Definition, ProcedureHead } from '../definition.ts';
import { type Group, type Tell, wasIs } from './difference.ts';
import { same } from './same.ts';
import { plainly } from './words.ts';

type Table = 'facts' | 'figures' | 'tools';

const ONE: Readonly<Record<Table, string>> = { facts: 'fact', figures: 'figure', tools: 'tool' };

/** Changes of these decide whether a figure or a tool is good enough; the rest is wording. */
const GROUP_OF: Readonly<Record<string, Group>> = {
  plausible: 'limit',
  unit: 'limit',
  calibrated: 'limit',
  values: 'way',
};

/** What is said and declared of the whole procedure. */
export function headDifferences([before, after]: readonly [Definition, Definition], tell: Tell): void {
  if (before.id !== after.id) tell('head', `the procedure ${wasIs(before.id, after.id)}`);
  const keys = [...new Set([...Object.keys(before.meta), ...Object.keys(after.meta)])];
  for (const key of keys as (keyof ProcedureHead)[]) {
    const [old, now] = [before.meta[key], after.meta[key]];
    if (same(old, now)) continue;
    if (key === 'facts' || key === 'figures' || key === 'tools') declared(key, before.meta, after.meta, tell);
    else if (key === 'revision') tell('head', `revision ${wasIs(String(old), String(now))}`);
    else tell('head', `${key === 'followUp' ? 'the follow-up' : key} ${wasIs(plainly(old), plainly(now))}`);
  }
}

function declared(table: Table, before: ProcedureHead, after: ProcedureHead, tell: Tell): void {
  const [old, now] = [before[table], after[table]] as readonly Readonly<Record<string, { says: string }>>[];
  for (const name of new Set([...Object.keys(old ?? {}), ...Object.keys(now ?? {})])) {
    const [was, is] = [old?.[name], now?.[name]];
    if (same(was, is)) continue;
    if (!was) tell('head', `new ${ONE[table]}: ${is?.says ?? name}`);
    else if (!is) tell('head', `the ${ONE[table]} ${was.says ?? name} is not used any more`);
    else {
      const parts = [...new Set([...Object.keys(was), ...Object.keys(is)])] as 'says'[];
      for (const part of parts)
        if (!same(was[part], is[part]))
          tell(
            GROUP_OF[part] ?? 'head',
            `${is.says ?? name}: ${part} ${wasIs(plainly(was[part]), plainly(is[part]))}`,
          );
    }
  }
}
