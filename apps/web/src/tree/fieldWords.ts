import type { TreeInput } from '@underbough/model'
import type { TreeField } from './conflict.ts'
import { protectionNames, sayStems, statusNames } from './facts.ts'

export const fieldNames: Record<TreeField, string> = {
  siteId: 'Site',
  tag: 'Tag',
  species: 'Species',
  commonName: 'Common name',
  position: 'Position',
  positionAccuracyM: 'Accuracy of position',
  stems: 'Stems',
  group: 'Group',
  heightM: 'Height',
  crownBaseHeightM: 'Crown base',
  crownRadiiM: 'Crown radii',
  lean: 'Lean',
  clearingBearingDeg: 'Clearing',
  slope: 'Ground falls',
  deadOrBrittle: 'Dead or brittle',
  owner: 'Owner',
  protections: 'Protection',
  powerLinesNear: 'Power lines near',
  status: 'It is',
  goneOn: 'Gone on',
  plantedYear: 'Planted',
  note: 'Note',
}

const metres = new Set<TreeField>(['heightM', 'crownBaseHeightM', 'positionAccuracyM'])

/** One field of a record as a person says it. */
export function sayField(field: TreeField, value: unknown): string {
  if (field === 'stems') return sayStems({ stems: value as TreeInput['stems'] })
  if (value === null || value === undefined || value === '') return 'not known'
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (field === 'status') return statusNames[value as TreeInput['status']]
  if (field === 'group') return `${(value as NonNullable<TreeInput['group']>).count} trees`
  if (field === 'protections')
    return (value as TreeInput['protections']).map((p) => protectionNames[p]).join(', ') || 'none'
  if (field === 'lean') {
    const lean = value as NonNullable<TreeInput['lean']>
    return lean.angleDeg === 0 ? 'upright' : `${lean.angleDeg}° to ${lean.bearingDeg}°`
  }
  if (field === 'slope') {
    const slope = value as NonNullable<TreeInput['slope']>
    return slope.angleDeg === 0 ? 'level' : `${slope.angleDeg}° down to ${slope.downhillBearingDeg}°`
  }
  if (field === 'crownRadiiM') {
    const radii = value as NonNullable<TreeInput['crownRadiiM']>
    return `N ${radii.n}, E ${radii.e}, S ${radii.s}, W ${radii.w} m`
  }
  if (field === 'position')
    return (value as number[])
      .map((x) => x.toFixed(7))
      .reverse()
      .join(', ')
  if (field === 'clearingBearingDeg') return `to ${value}°`
  if (metres.has(field)) return `${value} m`
  return String(value)
}
