/** Things most people have lifted or seen lifted, kg (common knowledge, no source). */
const things: readonly (readonly [kg: number, name: string])[] = [
  [1, 'a bag of sugar'],
  [8, 'a full bucket of water'],
  [25, 'a sack of cement'],
  [80, 'a grown man'],
  [150, 'two grown people'],
  [230, 'an upright piano'],
  [450, 'a grand piano'],
  [700, 'a dairy cow'],
  [1300, 'a small car'],
  [2500, 'a loaded van'],
  [5000, 'an elephant'],
  [12000, 'a full bus'],
  [40000, 'a loaded lorry'],
]

export interface EverydayComparison {
  sentence: string
  /** Always false: a comparison persuades, and has no place in a formal report. */
  forReports: false
}

/** What a weight is like, for talking with owners; never for a formal report. */
export function everydayComparison(massKg: number): EverydayComparison {
  const nearest = things.reduce((a, b) =>
    Math.abs(Math.log(b[0] / massKg)) < Math.abs(Math.log(a[0] / massKg)) ? b : a,
  )
  const ratio = massKg / nearest[0]
  const much = ratio > 1.35 ? 'heavier than' : ratio < 0.74 ? 'lighter than' : 'about as heavy as'
  return { sentence: `That is ${much} ${nearest[1]}.`, forReports: false }
}
