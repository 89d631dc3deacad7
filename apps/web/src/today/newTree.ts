import type { FoundTreeInput, Position, ScenarioPart, TreeInput, VisitLevel } from '@underbough/model'

/** What a person says of a tree that is not on record. */
export interface NewTree {
  tag: string
  species: string
  place: { position: Position; accuracyM: number | null }
  level: VisitLevel
  /** Whether it comes onto the day. */
  onDay: boolean
  fallen: { part: ScenarioPart; lies: number | null } | null
}

/** The entry of a found tree. What nobody measured stays unknown. */
export function foundTreeOf(found: NewTree, daySheetId: string): FoundTreeInput {
  const { tag, species, place, level, onDay, fallen } = found
  const tree: TreeInput = {
    siteId: null,
    tag: tag.trim(),
    species: species.trim(),
    commonName: null,
    position: place.position,
    positionAccuracyM: place.accuracyM === null ? null : Math.min(1000, Math.ceil(place.accuracyM)),
    stems: [],
    group: null,
    heightM: null,
    crownBaseHeightM: null,
    crownRadiiM: null,
    lean: null,
    clearingBearingDeg: null,
    deadOrBrittle: false,
    owner: null,
    protections: [],
    powerLinesNear: false,
    status: 'standing',
    goneOn: null,
    plantedYear: null,
    note: '',
  }
  return {
    id: crypto.randomUUID(),
    tree,
    stop: onDay ? { id: crypto.randomUUID(), daySheetId, level } : null,
    fallen: fallen ? { failureId: crypto.randomUUID(), ...fallen } : null,
  }
}
