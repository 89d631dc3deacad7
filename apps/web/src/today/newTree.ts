import {
  blankTree,
  type FoundTreeInput,
  type Position,
  type ScenarioPart,
  type VisitLevel,
} from '@underbough/model'

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
  const tree = blankTree({
    tag: tag.trim(),
    species: species.trim(),
    position: place.position,
    positionAccuracyM: place.accuracyM === null ? null : Math.min(1000, Math.ceil(place.accuracyM)),
  })
  return {
    id: crypto.randomUUID(),
    tree,
    stop: onDay ? { id: crypto.randomUUID(), daySheetId, level } : null,
    fallen: fallen ? { failureId: crypto.randomUUID(), ...fallen } : null,
  }
}
