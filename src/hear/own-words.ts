/**
 * Words that the CMU Pronouncing Dictionary lacks or says otherwise. Tree, fower, fife and niner are ICAO's (Annex 10,
 * volume II, 5.2.1.4.3, as tabled at icao4u.com); the rest are the trade's.
 */
export const OWN_WORDS: Readonly<Record<string, string>> = {
  tree: 'T R IY',
  fower: 'F OW ER',
  fife: 'F AY F',
  niner: 'N AY N ER',
  tyre: 'T AY ER',
  torqued: 'T AO R K T',
  refitted: 'R IY F IH T IH D',
  caliper: 'K AE L AH P ER',
  circlip: 'S ER K L IH P',
  preload: 'P R IY L OW D',
  adjusters: 'AH JH AH S T ER Z',
  centre: 'S EH N T ER',
  tubeless: 'T UW B L AH S',
  tensioner: 'T EH N SH AH N ER',
  unbent: 'AH N B EH N T',
  clickers: 'K L IH K ER Z',
  shims: 'SH IH M Z',
  sprockets: 'S P R AA K AH T S',
  outermost: 'AW T ER M OW S T',
};
