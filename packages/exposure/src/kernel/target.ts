import type { HourClass } from '../occupancy.ts'
import type { ChanceOfAny } from '../presence.ts'
import type { ZoneAround } from '../zone.ts'
import { Events } from './events.ts'
import type { ZoneRings } from './rings.ts'
import { emptyRings } from './rings.ts'
import type { Shelter } from './shelter.ts'

/** A zone as the sweep works on it, and what the sweep found. Used again for every tree. */
export class Target {
  zone!: ZoneAround
  /** Its whole outline, and what of it may be near; the same for most. */
  rings: ZoneRings = emptyRings()
  near!: ZoneRings
  readonly cut: ZoneRings = emptyRings()
  /** Angles of contact with anything that falls: from and to one after the other, ascending within 0 and 2π. */
  arcs: number[] = []
  /** Kinks of the shared ground, ascending. */
  events = new Events()
  /** Ends of contact with the outline alone, where pieces scatter too. */
  bodyEnds: number[] = []
  shelters: Shelter[] = []
  /** Shared ground may be there and yet only with a chance: behind a shelter, or where pieces scatter. */
  layered = false
  /** Places of the zones cut out of this one. */
  inside: number[] = []
  /** Places of those among them whose people are among its own. */
  parts: number[] = []
  /** Place of the smallest zone that it lies in; −1 in none. */
  within = -1
  /** Ground over which everybody is spread, square metres, and that of the people who are its own. */
  groundM2 = 0
  peopledM2 = 0
  /** Its own people: mean over the hours; 0 where there is nobody or no ground to spread them over. */
  people = 0
  hours: readonly HourClass[] = []
  groupSize = 1
  chance!: ChanceOfAny

  // Integrals over all angles, lobe by lobe: chance of touching, m² of its own ground by layer, chance of anybody.
  readonly touch = new Float64Array(LOBES)
  readonly stemM2 = new Float64Array(LOBES)
  readonly crownM2 = new Float64Array(LOBES)
  readonly ringM2 = new Float64Array(LOBES)
  readonly any = new Float64Array(LOBES)
  /** Under the mixture, of all its ground. */
  wholeStemM2 = 0
  wholeCrownM2 = 0

  clear(): void {
    this.touch.fill(0)
    this.stemM2.fill(0)
    this.crownM2.fill(0)
    this.ringM2.fill(0)
    this.any.fill(0)
    this.wholeStemM2 = 0
    this.wholeCrownM2 = 0
  }
}

/** As many directions as a tree may have reasons for. */
export const LOBES = 8
