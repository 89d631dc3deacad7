import { type DecayNote, decayOf } from './decay.ts'
import { densityRows, moistureRows } from './density.ts'
import { softwoodGenera, type WoodGroup } from './genera.ts'
import { type StrengthRow, strengthRows } from './strength.ts'

/** 1 psi in MPa, exact to the digits printed (NIST SP 811). */
const MPA_PER_PSI = 0.006894757

/** One figure of the table with where it comes from. */
export interface WoodCell {
  value: number
  least: number
  most: number
  /** `seen`: read in print. `memory`: from memory. `computed`: by the source's formula from figures read in print. */
  basis: 'seen' | 'memory' | 'computed'
  /** Whose figure it is: the species', or a stand-in: of its genus, of all hardwoods or softwoods, or of the whole table where nothing is known. */
  from: 'species' | 'genus' | 'group' | 'all'
  /** Name of the species, genus or group the figure belongs to. */
  of: string
  source: string
}

/** Green wood of one species, every cell with its source; where the species has no row of its own its genus or group stands in. */
export interface GreenWoodOf {
  latin: string | null
  /** Null where nothing is known of the tree. */
  group: WoodGroup | null
  densityKgM3: WoodCell
  bendingStrengthMPa: WoodCell
  stiffnessGPa: WoodCell
  crushingStrengthMPa: WoodCell
  decay: DecayNote | null
}

const handbook = 'Wood Handbook (FPL-GTR-282), Table 5-3, green, small clear specimens'
const nrs38 = 'Miles and Smith 2009, Research Note NRS-38: specific gravity × 1000 × (1 + moisture / 100)'
const table41 = 'Wood Handbook, Tables 5-3 and 4-1: specific gravity × 1000 × (1 + moisture / 100)'
const itsGenus = 'the source gives the genus’ value'

/** Green density, kg/m³, from specific gravity (oven-dry mass over green volume) and moisture, % of oven-dry mass. */
export const greenDensityKgM3 = (specificGravity: number, moisturePct: number): number =>
  specificGravity * 1000 * (1 + moisturePct / 100)

/**
 * Strength at another moisture from that at 12 % and green: P = P₁₂ (P₁₂/P_g)^((12−M)/(M_p−12)) (Wood Handbook, equation 5-3), same unit.
 *
 * @param intersectionPct moisture M_p at which drying begins to change the strength, % of oven-dry mass
 */
export const strengthAtMoisture = (
  at12: number,
  green: number,
  moisturePct: number,
  intersectionPct: number,
): number => at12 * (at12 / green) ** ((12 - moisturePct) / (intersectionPct - 12))

interface Own {
  latin: string
  genus: string
  group: WoodGroup
  density: Omit<WoodCell, 'from' | 'of'> | null
  bending: Omit<WoodCell, 'from' | 'of'> | null
  stiffness: Omit<WoodCell, 'from' | 'of'> | null
  crushing: Omit<WoodCell, 'from' | 'of'> | null
}

const groupOf = (genus: string): WoodGroup => (softwoodGenera.has(genus) ? 'softwood' : 'hardwood')

/** Every species of the tables with its own figures. */
const owned: ReadonlyMap<string, Own> = (() => {
  const latins = new Set([...strengthRows.map((row) => row[0]), ...densityRows.map((row) => row[0])])
  return new Map(
    [...latins].map((latin) => {
      const genus = latin.split(' ')[0]!
      const rows = strengthRows.filter((row) => row[0] === latin)
      const cell = (pick: (row: StrengthRow) => number, memory: (row: StrengthRow) => boolean) => {
        if (rows.length === 0) return null
        const values = rows.map(pick)
        return {
          value: values.reduce((a, b) => a + b, 0) / values.length,
          least: Math.min(...values),
          most: Math.max(...values),
          basis: rows.some(memory) ? ('memory' as const) : ('seen' as const),
          source: handbook,
        }
      }
      return [
        latin,
        {
          latin,
          genus,
          group: groupOf(genus),
          density: densityCell(latin),
          bending: cell(
            (row) => row[3] * MPA_PER_PSI,
            (row) => row[6] === 'memory',
          ),
          stiffness: cell(
            (row) => row[4] * 1000 * MPA_PER_PSI,
            (row) => row[6] === 'memory',
          ),
          crushing: cell(
            (row) => row[5] * MPA_PER_PSI,
            (row) => row[6] !== 'seen',
          ),
        },
      ]
    }),
  )
})()

function densityCell(latin: string): Own['density'] {
  const whole = densityRows.find((row) => row[0] === latin)
  const gravity = strengthRows.find((row) => row[0] === latin)?.[2]
  const moisture = moistureRows.find((row) => row[0] === latin)
  const parts =
    gravity !== undefined && moisture
      ? [moisture[1], moisture[2]].filter((pct) => pct !== null).map((pct) => greenDensityKgM3(gravity, pct))
      : []
  if (whole) {
    const value = greenDensityKgM3(whole[2], whole[3])
    return {
      value,
      least: Math.min(value, ...parts),
      most: Math.max(value, ...parts),
      basis: 'computed',
      source: [
        nrs38,
        ...(whole[4] ? [itsGenus] : []),
        ...(parts.length > 0 ? [`span also of heartwood and sapwood, ${table41}`] : []),
      ].join('; '),
    }
  }
  if (parts.length === 0) return null
  return {
    value: parts.reduce((a, b) => a + b, 0) / parts.length,
    least: Math.min(...parts),
    most: Math.max(...parts),
    basis: 'computed',
    source: table41,
  }
}

type Figure = 'density' | 'bending' | 'stiffness' | 'crushing'

/** The species' own cell, else what its genus spans, else what its group spans. */
function cellOf(
  latin: string | null,
  genus: string | null,
  group: WoodGroup | null,
  figure: Figure,
): WoodCell {
  const own = latin ? owned.get(latin)?.[figure] : null
  if (own) return { ...own, from: 'species', of: latin! }
  const span = (members: Own[], from: 'genus' | 'group' | 'all', of: string): WoodCell | null => {
    const cells = members.flatMap((one) => one[figure] ?? [])
    if (cells.length === 0) return null
    return {
      value: cells.reduce((sum, one) => sum + one.value, 0) / cells.length,
      least: Math.min(...cells.map((one) => one.least)),
      most: Math.max(...cells.map((one) => one.most)),
      basis: cells.some((one) => one.basis === 'memory') ? 'memory' : cells[0]!.basis,
      source: `${[...new Set(cells.flatMap((one) => one.source.split('; ')))].filter((part) => part !== itsGenus).join(' | ')}; mean and span of ${cells.length} species of ${of}`,
      from,
      of,
    }
  }
  const all = [...owned.values()]
  return (
    (genus &&
      span(
        all.filter((one) => one.genus === genus),
        'genus',
        genus,
      )) ||
    (group &&
      span(
        all.filter((one) => one.group === group),
        'group',
        group === 'softwood' ? 'the softwoods' : 'the hardwoods',
      )) ||
    span(all, 'all', 'the whole table')!
  )
}

/** Green wood by botanical name, genus alone, group alone, or nothing at all: then the whole table stands in, with its full span. */
export function greenWoodOf(
  latin: string | null,
  genus: string | null = latin?.split(' ')[0] ?? null,
  group: WoodGroup | null = genus ? groupOf(genus) : null,
): GreenWoodOf {
  const cell = (figure: Figure) => cellOf(latin, genus, group, figure)
  return {
    latin,
    group,
    densityKgM3: cell('density'),
    bendingStrengthMPa: cell('bending'),
    stiffnessGPa: cell('stiffness'),
    crushingStrengthMPa: cell('crushing'),
    decay: latin ? decayOf(latin) : genus ? decayOf(genus) : null,
  }
}
