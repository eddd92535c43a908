import type { Definition } from '../definition.ts';
import type { Finding } from './finding.ts';
import { measureFindings } from './measures.ts';
import type { NameOptions } from './names.ts';
import { nameFindings } from './names.ts';
import type { PhraseRules } from './phrases.ts';
import { phraseFindings, plainRules } from './phrases.ts';
import type { Proof } from './prove.ts';
import { prove } from './prove.ts';
import { shapeFindings } from './shape.ts';
import { readDefinition } from './structure.ts';

export interface CheckOptions extends NameOptions {
  /** How phrases sound; by default by spelling alone. */
  readonly phrases?: PhraseRules;
}

export interface Checked {
  readonly findings: readonly Finding[];
  /** Null when the value is no definition at all. */
  readonly definition: Definition | null;
  readonly proof: Proof | null;
}

/** Checks unknown data as a procedure, from its types to its proofs. Never throws for bad data. */
export function checkProcedure(value: unknown, options: CheckOptions = {}): Checked {
  const read = readDefinition(value);
  if ('findings' in read) return { findings: read.findings, definition: null, proof: null };
  const { definition } = read;
  const proof = prove(definition);
  const findings = [
    ...shapeFindings(definition),
    ...nameFindings(definition, options),
    ...measureFindings(definition),
    ...phraseFindings(definition, options.phrases ?? plainRules),
    ...proof.findings,
  ];
  return { findings, definition, proof };
}

/** Everything that is wrong with a procedure; empty: it is proved. */
export function findings(value: unknown, options: CheckOptions = {}): readonly Finding[] {
  return checkProcedure(value, options).findings;
}
