import { zoneKinds } from '@underbough/model'
import { ZoneSwatch, zoneNames } from '@underbough/pictures'
import type { Bounds } from '../map/index.ts'
import type { Numbered } from './hooks.ts'
import { SpotMap } from './SpotMap.tsx'

/** The map of the listed places with its title and key. */
export function MapColumn({
  of,
  bounds,
  spots,
  listed,
  chosen,
  overId,
  goes,
  onChoose,
  onOver,
  onView,
}: {
  of: 'zone' | 'cell'
  bounds: Bounds
  /** All that may be chosen. */
  spots: readonly Numbered[]
  /** Those that have their number on the map. */
  listed: readonly Numbered[]
  chosen: Numbered | null
  overId: string | null
  goes: boolean
  onChoose(id: string): void
  onOver(id: string | null): void
  onView(bounds: Bounds): void
}) {
  const among = (id: string | null) => spots.some((spot) => spot.id === id)
  return (
    <div className="hotspots-map">
      <h1>Where falls would meet people</h1>
      <p className="prose q">
        Each number stands on its {of} of the list. Dots are trees; a press on the map or on a row goes there.
      </p>
      <SpotMap
        bounds={bounds}
        spots={listed}
        chosen={chosen}
        overId={overId}
        goes={goes}
        onChoose={(id) => among(id) && onChoose(id)}
        onOver={(id) => onOver(among(id) ? id : null)}
        onView={onView}
      />
      <ul className="key" aria-label="Key to the map">
        {zoneKinds.map((kind) => (
          <li key={kind}>
            <ZoneSwatch kind={kind} widthPx={24} heightPx={14} hidden /> &nbsp;{zoneNames[kind]}
          </li>
        ))}
      </ul>
    </div>
  )
}
