import type { Definition } from '../procedure/definition.ts';
import { measureFindings } from '../procedure/proof/measures.ts';
import { nameFindings } from '../procedure/proof/names.ts';
import { prove } from '../procedure/proof/prove.ts';
import { shapeFindings } from '../procedure/proof/shape.ts';

/**
 * What the proof of a procedure finds that bears on a record made with it: ways round a hold point, dead ends, figures
 * that are not there. How well its phrases tell apart in a noisy shop is left out: that is judged before a procedure is
 * published, by rules that grow, and an old record must not fall by a new one. To be given to `verifyFile`.
 */
export const proofOf = (definition: Definition) => [
  ...shapeFindings(definition),
  ...nameFindings(definition, {}),
  ...measureFindings(definition),
  ...prove(definition).findings,
];
