import type { StateData, TransitionData } from '../../src/procedure/definition.ts';
import { COMPLETE } from '../../src/procedure/definition.ts';
import type { HoldStation, Station } from '../../src/procedure/station.ts';
import { measureMutants } from './mutants-measure.ts';
import {
  type At,
  completing,
  type Mutant,
  opens,
  pick,
  retargeted,
  ways,
  withAction,
  without,
  withState,
} from './mutate.ts';

/** Faults at a hold point. */
export function holdMutants({ definition, name, state, meta, stations, random }: At<HoldStation>): Mutant[] {
  const pass =
    Object.values(state.on ?? {})
      .flat()
      .find(opens)?.target ?? COMPLETE;
  const fail = state.on?.fail?.[0]?.target ?? COMPLETE;
  const make = (operator: string, mutated: StateData, judgement = false): Mutant => ({
    operator,
    at: name,
    judgement,
    definition: withState(definition, name, mutated),
  });
  const said = (operator: string, station: Station, judgement = false) =>
    make(operator, { ...state, meta: station }, judgement);
  const plain = { type: 'advances', params: { station: name } } as const;
  const bypass: TransitionData = { target: pass, guard: completing(plain, pass) };
  const others = stations.filter((other) => other !== name);
  const otherHold = others.find((other) => definition.states[other]?.meta?.kind === 'hold');
  const otherPhrase = definition.states[otherHold ?? '']?.meta;
  const event = meta.measure ? 'reading' : 'confirm';
  const list = (key: string) => state.on?.[key] ?? [];
  return [
    make(
      "drop a hold's guard",
      ways(state, (way) => (opens(way) ? without(way, 'guard') : way)),
    ),
    make(
      'put another guard on a pass',
      ways(state, (way) =>
        opens(way) ? { ...way, guard: completing({ ...plain, type: 'failsHere' }, pass) } : way,
      ),
    ),
    make('add a bypass on the advance word', { ...state, on: { ...state.on, advance: [bypass] } }),
    make('add an unguarded bypass', { ...state, on: { ...state.on, note: [{ target: pass }] } }),
    make('add a bypass by itself', { ...state, always: [{ target: pass }] }),
    make('open on a shorter word', {
      ...state,
      on: { ...without(state.on ?? {}, event), advance: list(event) },
    }),
    make(
      'retarget a pass',
      ways(state, (way) => (opens(way) ? retargeted(way, pick(random, others)) : way)),
    ),
    make(
      'retarget a pass to the end',
      ways(state, (way) => (opens(way) ? retargeted(way, COMPLETE) : way)),
    ),
    make(
      'retarget one of two passes',
      ways(state, (way) =>
        way.guard?.type === 'witnessOpens' ? retargeted(way, pick(random, others)) : way,
      ),
    ),
    make(
      'swap pass and fail',
      ways(state, (way) => {
        if (opens(way)) return retargeted(way, fail);
        return way.target === fail ? retargeted(way, pass) : way;
      }),
    ),
    make(
      'fail leads on',
      ways(state, (way) => (way.target === fail ? retargeted(way, pass) : way)),
    ),
    make(
      'fail leads elsewhere',
      ways(state, (way) => (way.target === fail ? retargeted(way, pick(random, others)) : way)),
    ),
    make('drop the fail way', { ...state, on: without(state.on ?? {}, 'fail') }),
    make(
      'drop passHold',
      ways(state, (way) => ({
        ...way,
        actions: (way.actions ?? []).filter(({ type }) => type !== 'passHold'),
      })),
    ),
    make(
      'passHold on the fail way',
      ways(state, (way) =>
        withAction(way, 'failHold')
          ? { ...way, actions: [{ type: 'passHold', params: { station: name } }] }
          : way,
      ),
    ),
    make(
      'passHold of another station',
      ways(state, (way) => ({
        ...way,
        actions: (way.actions ?? []).map((action) =>
          action.type === 'passHold' ? { ...action, params: { station: otherHold ?? 'elsewhere' } } : action,
        ),
      })),
    ),
    make(
      "drop a witness's wait",
      ways(state, (way) => (way.guard?.type === 'evidenceAwaitsWitness' ? null : way)),
    ),
    make(
      'witness waiting passes',
      ways(state, (way) =>
        way.guard?.type === 'evidenceAwaitsWitness'
          ? { ...way, target: pass, actions: [{ type: 'passHold', params: { station: name } }] }
          : way,
      ),
    ),
    make('drop the way of the witness', { ...state, on: without(state.on ?? {}, 'witness') }),
    make('drop the tag of a hold', without(state, 'tags')),
    make('drop arrive', { ...state, entry: [] }),
    make('arrive elsewhere', {
      ...state,
      entry: [{ type: 'arrive', params: { station: pick(random, others) } }],
    }),
    make('pass on arrival', {
      ...state,
      entry: [...(state.entry ?? []), { type: 'passHold', params: { station: name } }],
    }),
    said('make a phrase generic', { ...meta, phrase: 'next step' }),
    said('put a generic word into a phrase', { ...meta, phrase: `${meta.phrase} stop` }),
    said('make a phrase its negation of another', {
      ...meta,
      phrase: `not ${otherPhrase?.kind === 'hold' ? otherPhrase.phrase : 'next step'}`,
    }),
    said('empty a phrase', { ...meta, phrase: ' ' }),
    ...(otherPhrase?.kind === 'hold'
      ? [said('duplicate a phrase', { ...meta, phrase: otherPhrase.phrase })]
      : []),
    said('an unknown fact in applies', { ...meta, applies: { nobodyKnows: true } }),
    ...(meta.measure
      ? measureMutants(meta.measure).map(([operator, measure, judgement]) =>
          said(
            operator,
            measure ? { ...meta, measure } : (without(meta, 'measure') as HoldStation),
            judgement,
          ),
        )
      : []),
    // What only a person can judge: a correct procedure could say it.
    ...(meta.witness === 'never' ? [] : [said('ask for no witness', { ...meta, witness: 'never' }, true)]),
    ...(meta.applies
      ? [
          said('apply always', without(meta, 'applies') as HoldStation),
          ...Object.entries(meta.applies).map(([fact, wanted]) => {
            const { values = [] } = definition.meta.facts[fact] ?? {};
            const left = values.filter((value) => value !== wanted);
            return said('apply for other values', { ...meta, applies: { ...meta.applies, [fact]: left } });
          }),
        ]
      : Object.entries(definition.meta.facts).map(([fact, { values }]) =>
          said('apply for one value only', { ...meta, applies: { [fact]: values[0] ?? true } }, true),
        )),
    make('let anyone concede', {
      ...state,
      on: {
        ...state.on,
        decide: [{ target: pass, actions: [{ type: 'passHold', params: { station: name } }] }],
      },
    }),
    make('a concession that the hold does not speak of', {
      ...state,
      meta: without(meta, 'concession') as HoldStation,
      on: {
        ...state.on,
        decide: [{ target: pass, guard: completing({ type: 'concedes', params: { station: name } }, pass) }],
      },
    }),
    ...(meta.concession ? [] : [make('allow a concession', conceded(state, meta, name, pass), true)]),
    make(
      'make a hold an ordinary step',
      { meta: { kind: 'step', say: meta.say }, entry: state.entry ?? [], on: { advance: [bypass] } },
      true,
    ),
  ];
}

/** The hold as the vocabulary would write it if a supervisor could concede it. */
function conceded(state: StateData, meta: HoldStation, name: string, pass: string): StateData {
  const params = { station: name };
  const guard = completing({ type: 'concedes', params }, pass);
  const actions = ['closeTrouble', 'passHold'].map((type) => ({ type, params }));
  return {
    ...state,
    meta: { ...meta, concession: true },
    on: { ...state.on, decide: [{ target: pass, guard, actions }] },
  };
}
