import type { Facts } from '../facts.ts';
import { factsInWords } from '../facts.ts';
import type { Explored } from './explore.ts';
import type { Finding, FindingCode } from './finding.ts';
import { finding } from './finding.ts';
import type { Item } from './knowledge.ts';

const CODES = {
  figure: 'figure-not-looked-up',
  reading: 'reading-not-taken',
  result: 'result-not-computed',
} as const satisfies Record<string, FindingCode>;

/**
 * Items that a station needs and that neither its own section nor one before it has made known, for some combination of
 * facts. Sections are gone through in order, so an item is lacking when all the sections before, too, can be left
 * without it under facts that agree.
 */
export function assignedFindings(sections: readonly Explored[]): Finding[] {
  const givers = new Map<Item, number[]>();
  sections.forEach(({ leaves }, at) => {
    for (const item of new Set(leaves.flatMap(({ gained }) => [...gained]))) {
      givers.set(item, [...(givers.get(item) ?? []), at]);
    }
  });
  const findings = new Map<string, Finding>();
  sections.forEach(({ leaves }, at) => {
    for (const { facts, lacking } of leaves) {
      for (const { station, item } of lacking) {
        const key = `${station} ${item}`;
        if (findings.has(key)) continue;
        const before = (givers.get(item) ?? []).filter((giver) => giver < at);
        const without = lackingUnder(
          facts,
          item,
          before.map((giver) => sections[giver]),
        );
        if (without) findings.set(key, lackingFinding(station, item, without));
      }
    }
  });
  return [...findings.values()];
}

/** Facts, agreeing with `facts`, under which all these sections can be left without the item; null when there are none. */
function lackingUnder(facts: Facts, item: Item, sections: readonly (Explored | undefined)[]): Facts | null {
  const [section, ...rest] = sections;
  if (!section) return facts;
  for (const leaf of section.leaves) {
    if (!leaf.passable || leaf.gained.has(item)) continue;
    const both = agreeing(facts, leaf.facts);
    const found = both && lackingUnder(both, item, rest);
    if (found) return found;
  }
  return null;
}

/** Both sets of settled facts together, or null where they contradict each other. */
export function agreeing(one: Facts, other: Facts): Facts | null {
  for (const [fact, value] of Object.entries(other)) {
    if (one[fact] !== undefined && one[fact] !== value) return null;
  }
  return { ...one, ...other };
}

function lackingFinding(station: string, item: Item, facts: Facts): Finding {
  const [kind, ...name] = item.split(' ') as [keyof typeof CODES, ...string[]];
  const words = Object.keys(facts).length === 0 ? 'whatever the facts' : factsInWords(facts);
  return finding(station, CODES[kind], { name: name.join(' '), facts: words });
}
