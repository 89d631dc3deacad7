import type { ProbeInput, WoodCondition } from '@underbough/model'

export type ProbeKind = ProbeInput['kind']

/** In the order in which they are offered: what wounds least first. */
export const probeKinds: readonly ProbeKind[] = [
  'sounding',
  'outline',
  'opening',
  'drill-trace',
  'core',
  'fracture-test',
  'laboratory',
  'cut',
]
export const isProbeKind = (word: string | null): word is ProbeKind => probeKinds.includes(word as ProbeKind)

export const kindNames: Readonly<Record<ProbeKind, string>> = {
  core: 'Core',
  'drill-trace': 'Drill trace',
  sounding: 'Sounding with a mallet',
  'fracture-test': 'Bending a core until it breaks',
  laboratory: 'Laboratory result',
  opening: 'Opening',
  cut: 'Cut surface',
  outline: 'Outline of the stem',
}
export const kindSays: Readonly<Record<ProbeKind, string>> = {
  core: 'A core bored out: its wood from the bark inwards, rings, pith. Wounds the tree.',
  'drill-trace': 'Resistance against depth, from the instrument’s file. Wounds the tree.',
  sounding: 'Where it sounds dull, at each height struck.',
  'fracture-test': 'Bend and load at which each piece of a core broke.',
  laboratory: 'What a laboratory found in a sample.',
  opening: 'A hole one can look into: edges, depth, wall at each edge.',
  cut: 'The wall as it showed when the stem was cut.',
  outline: 'Girth, or radii by bearing, at one height.',
}
/** A letter for each kind: C1, T2. */
export const kindLetters: Readonly<Record<ProbeKind, string>> = {
  core: 'C',
  'drill-trace': 'T',
  sounding: 'S',
  'fracture-test': 'F',
  laboratory: 'L',
  opening: 'O',
  cut: 'X',
  outline: 'G',
}
/** Kinds that leave a hole. */
export const wounds = (kind: ProbeKind) => kind === 'core' || kind === 'drill-trace'
/** Kinds with a place of entry and a direction. */
export const enters = (kind: ProbeKind) => wounds(kind) || kind === 'fracture-test'

export const conditionNames: Readonly<Record<WoodCondition, string>> = {
  sound: 'sound',
  stained: 'stained, firm',
  'softened-brittle': 'soft, brittle',
  'softened-fibrous': 'soft, fibrous',
  void: 'nothing',
}
