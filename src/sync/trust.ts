import { extendsTree, includes } from '../book/log.ts';
import { leafOf } from '../book/seal-log.ts';
import { openData } from '../journal/seal.ts';
import { HEX_64, matches, moment, name, plain, table, whole } from '../journal/shape.ts';
import { flag, list, number, oneOf, record, tableOf, type Wanted } from '../procedure/proof/wanted.ts';
import type { Included, Settings, ShutOut, SignedRoot } from './wire.ts';

/** What is wrong with something that came from the office: a closed list. */
export type Distrust =
  | { readonly code: 'not-our-office'; readonly says: string }
  | { readonly code: 'log-shrank'; readonly says: string }
  | { readonly code: 'log-rewritten'; readonly says: string }
  | { readonly code: 'seal-not-in-log'; readonly says: string }
  | { readonly code: 'settings-older'; readonly says: string }
  | { readonly code: 'settings-unreadable'; readonly says: string };

export type Judged<T> = { readonly value: T } | { readonly distrust: Distrust };

const bad = (code: Distrust['code'], says: string): { distrust: Distrust } => ({ distrust: { code, says } });

const rootShape = record({ size: whole, root: matches(HEX_64, '64 hex digits'), at: moment });

async function signedBy<T>(jws: string, shape: Wanted, office: string): Promise<Judged<T>> {
  const opening = await openData<T>(jws, shape);
  if (!opening.opened)
    return bad('not-our-office', `What the office sent is not signed as it must be: ${opening.says}`);
  if (opening.opened.kid === office) return { value: opening.opened.payload };
  return bad(
    'not-our-office',
    'This is signed by another key than that of the office this bench is enrolled with: have the supervisor look.',
  );
}

/** A root as the office signed it. `office`: thumbprint of its key, kept since enrolment. Never throws. */
export const openRoot = (jws: string, office: string): Promise<Judged<SignedRoot>> =>
  signedBy<SignedRoot>(jws, rootShape, office);

/** Is the root that was seen last the past of this one (RFC 9162, section 2.1.4)? Null when it is. */
export function historyHolds(
  seen: Pick<SignedRoot, 'size' | 'root'> | null,
  now: SignedRoot,
  proof: readonly string[],
): Distrust | null {
  if (!seen) return null;
  if (now.size < seen.size) {
    return {
      code: 'log-shrank',
      says: `The office’s log had ${seen.size} seals and has ${now.size}: seals were taken out. Have the supervisor look.`,
    };
  }
  const { size, root } = now;
  if (
    seen.size === size
      ? seen.root === root
      : extendsTree({ from: seen.size, fromRoot: seen.root, size, root, proof })
  )
    return null;
  return {
    code: 'log-rewritten',
    says: `The first ${seen.size} seals of the office’s log are not those that were seen before: history was changed. Have the supervisor look.`,
  };
}

/** Is this bench's seal in the log under this root (section 2.1.3)? Null when it is. */
export function sealIsIn(seal: string, included: Included, root: SignedRoot): Distrust | null {
  const leaf = leafOf(seal);
  const { index, size, proof } = included;
  const holds =
    leaf === included.leaf && size === root.size && includes({ leaf, index, size, proof, root: root.root });
  if (holds) return null;
  return {
    code: 'seal-not-in-log',
    says: `The office cannot show that the seal of job ${included.job} is in its log. Have the supervisor look.`,
  };
}

const HASH = matches(HEX_64, '64 hex digits');
const day = matches(/^\d{4}-\d{2}-\d{2}$/, 'a day like 2026-01-31');
const fact: Wanted = (value, where) =>
  typeof value === 'string' || typeof value === 'boolean' ? null : { where, wanted: 'text, true or false' };

const drive = record({ primary: number, gears: list(number), rollingCircumference: number, maxRpm: number });
const machine = record(
  {
    id: name,
    says: name,
    plate: plain,
    facts: tableOf(fact),
    figures: tableOf(record({ value: number, unit: plain })),
  },
  { drive },
);
const person = record(
  { id: name, name, role: oneOf('mechanic', 'apprentice', 'supervisor') },
  { signsOn: flag },
);
const tool = record({ id: name, kind: name, says: plain }, { calibratedUntil: day, classPercent: number });

const part = record(
  { code: name, says: plain, fits: list(record({ procedure: name, item: name })) },
  { machines: list(name), figures: tableOf(number) },
);

/** What the supervisor publishes: a workshop as a bench keeps it. */
export const workshopShape = record(
  { name, machines: list(machine), people: list(person), tools: list(tool) },
  { parts: list(part), badges: tableOf(name), hint: plain },
);

/** Fewer rounds would make a PIN cheap to guess, more would keep a bench busy for minutes. */
const rounds: Wanted = (value, where) =>
  typeof value === 'number' && Number.isInteger(value) && value >= 100_000 && value <= 10_000_000
    ? null
    : { where, wanted: 'rounds from 100,000 to 10,000,000' };
const pin = record({
  salt: matches(/^[0-9a-f]{32}$/, '32 hex digits'),
  hash: HASH,
  rounds,
});

const settingsShape = record(
  {
    version: whole,
    at: moment,
    workshop: name,
    machines: list(machine),
    people: list(person),
    tools: list(tool),
    badges: table,
    procedures: list(
      record({ id: name, title: plain, revision: whole, hash: HASH }, { publishedAt: moment }),
    ),
    revoked: list(name),
  },
  { parts: list(part), shutOut: list(name), pins: tableOf(pin) },
);

const shutOutShape = record({ bench: name, why: plain, at: moment });

/** That this bench was shut out, as the office signed it: null when it is not so signed, or for another bench. */
export async function openShutOut(jws: unknown, office: string, bench: string): Promise<ShutOut | null> {
  if (typeof jws !== 'string') return null;
  const judged = await signedBy<ShutOut>(jws, shutOutShape, office);
  return 'value' in judged && judged.value.bench === bench ? judged.value : null;
}

/** Settings as the office signed them; older ones than those in use are refused. Never throws. */
export async function openSettings(jws: string, office: string, inUse: number): Promise<Judged<Settings>> {
  const judged = await signedBy<Settings>(jws, settingsShape, office);
  if ('distrust' in judged || judged.value.version >= inUse) return judged;
  return bad(
    'settings-older',
    `The office sent settings ${judged.value.version}; this bench has ${inUse} already. Have the supervisor look.`,
  );
}
