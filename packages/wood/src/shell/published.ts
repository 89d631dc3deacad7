import type { ShellRule, Stem } from './types.ts'

const comparison =
  'as compared in Arboriculture & Urban Forestry, https://auf.isa-arbor.com/highwire/markup/6705/expansion'
const percent = (share: number) => 100 * share

const uneven = (stem: Stem) =>
  stem.uneven ? ['The wall is uneven; the rule is for a hollow in the middle.'] : []
const open = (stem: Stem) =>
  stem.openingShare > 0 ? ['The shell is open here; the rule is for a closed one.'] : []

/** t/R against 0.30 to 0.35. */
export function wallOverRadius(stem: Stem): ShellRule {
  const angle = Math.round(stem.openingAngleDeg)
  const wide =
    stem.openingAngleDeg > 120 ? [`The opening takes ${angle}° of the round, and the rule ends at 120°.`] : []
  const narrow =
    stem.openingShare > 0 && wide.length === 0
      ? ['The shell is open here; the comparison gives this rule no figure for its open section.']
      : []
  return {
    id: 'wall-over-radius',
    name: 'Wall over radius',
    formula: 't/R',
    figure: stem.wallCm / stem.radiusCm,
    unit: 'of the radius',
    lines: [
      { at: 0.3, says: 'the rule’s line is at 0.30', basis: 'seen' },
      { at: 0.35, says: 'upper end of the rule’s band', basis: 'memory' },
    ],
    domain: 'A closed shell, hollow in the middle; not for openings over 120° of the round.',
    domainLeft: [...uneven(stem), ...narrow, ...wide],
    source: `Mattheck and Breloer 1994, ${comparison}`,
    basis: 'seen',
  }
}

/** d³/D³, and the same with an opening. */
export function cubes(stem: Stem): ShellRule[] {
  const cube = stem.hollowShare ** 3
  return [
    {
      id: 'cube',
      name: 'Cube of the hollow',
      formula: 'd³ / D³',
      figure: percent(cube),
      unit: '%',
      lines: [{ at: 33, says: 'the rule’s line is at 33 %', basis: 'seen' }],
      domain: 'Conifers on recreation grounds at first; a closed shell, hollow in the middle.',
      domainLeft: [
        ...uneven(stem),
        ...open(stem),
        ...(stem.conifer === false ? ['This is no conifer; the rule was made for conifers.'] : []),
      ],
      source: `Wagener 1963, ${comparison}`,
      basis: 'seen',
    },
    {
      id: 'cube-with-opening',
      name: 'Cube of the hollow, with an opening',
      formula: '(d³ + r (D³ − d³)) / D³, r the opening’s share of the circumference',
      figure: percent(cube + stem.openingShare * (1 - cube)),
      unit: '%',
      lines: [{ at: 33, says: 'the rule’s line is at 33 %', basis: 'seen' }],
      domain: 'A hollow in the middle, closed or open.',
      domainLeft: uneven(stem),
      source: `Smiley and Fraedrich 1992, ${comparison}`,
      basis: 'seen',
    },
  ]
}

/** d⁴/D⁴: for an even closed ring this is the loss of section modulus itself. */
export function fourthPower(stem: Stem): ShellRule {
  return {
    id: 'fourth-power',
    name: 'Fourth power of the hollow',
    formula: 'd⁴ / D⁴',
    figure: percent(stem.hollowShare ** 4),
    unit: '%',
    lines: [
      { at: 20, says: 'the rule asks for caution from 20 %', basis: 'seen' },
      {
        at: 44,
        says: 'the rule’s upper line is at 44 %; the comparison prints more than 50 %',
        basis: 'seen',
      },
    ],
    domain:
      'A closed shell, hollow in the middle. There it equals the loss of section modulus by beam theory.',
    domainLeft: [...uneven(stem), ...open(stem)],
    source: `Coder 1989, ${comparison}`,
    basis: 'seen',
  }
}

/** The two rules that ask for a wall as a share of the diameter; both have another share where the shell is open. */
export function shellShares(stem: Stem): ShellRule[] {
  const diameterCm = 2 * stem.radiusCm
  const isOpen = stem.openingShare > 0
  const wall = { figure: stem.wallCm, unit: 'cm' as const, domainLeft: uneven(stem) }
  return [
    {
      ...wall,
      id: 'inch-in-six',
      name: 'An inch of shell for each six of diameter',
      formula: isOpen ? 't = D/3, open' : 't = D/6, closed',
      lines: [
        {
          at: isOpen ? diameterCm / 3 : diameterCm / 6,
          says: isOpen ? 'two inches of wall for each six of diameter' : 'one inch of wall for each six',
          basis: isOpen ? 'memory' : 'seen',
        },
      ],
      domain: 'Two figures, for a closed shell and for one with an opening; the open one is from memory.',
      source: 'United States Forest Service, guide to hazard rating codes',
      basis: isOpen ? 'memory' : 'seen',
    },
    {
      ...wall,
      id: 'share-of-diameter',
      name: 'Wall as a share of the diameter',
      formula: isOpen ? 't = 0.20 D, open' : 't = 0.15 D, closed',
      lines: [
        {
          at: (isOpen ? 0.2 : 0.15) * diameterCm,
          says: isOpen ? '0.20 of the diameter with an open wound' : '0.15 of the diameter',
          basis: 'memory',
        },
      ],
      domain: 'Conifers of the north-west coast of America; from memory, the guide’s table was not read.',
      source: 'United States Forest Service, Pacific Northwest field guide, from memory',
      basis: 'memory',
    },
  ]
}
