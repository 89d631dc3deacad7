import type { Position, TreeStatus, ZoneKind } from '@underbough/model'
import type { Feature, FeatureCollection, Geometry, Polygon } from 'geojson'
import type { Ground } from '../look/ground.ts'
import type { Bounds } from './squares.ts'

/** What a person is doing with the map. */
export type MapTool =
  | 'move'
  | 'lasso'
  | 'measure'
  | 'draw-zone'
  | 'edit-zone'
  | 'carry-zone'
  | 'add-tree'
  | 'move-tree'

/** Which trees stand as marks; the rest become dots. Every part narrows; an absent part does not. */
export interface TreeFilter {
  /** Mondays as day numbers (see `dayNumber` of model): due in [from, to). */
  weeks?: readonly [from: number, to: number]
  /** 0 not yet rated, 1 low to 4 extreme. */
  risks?: readonly number[]
  overdue?: boolean
  neverSeen?: boolean
  /** Part of the species or the common name. */
  names?: string
  siteId?: string
  within?: readonly Polygon[]
  ids?: readonly string[]
}

/** A tree of the map as its tile says it. */
export interface MapTree {
  id: string
  tag: string
  risk: number
  overdue: boolean
  seen: boolean
  ratingOpen: boolean
  status: TreeStatus
  /** Day number of the Monday of the week it is due in; null when nothing is due. */
  week: number | null
  position: Position
  /** Species and common name in small letters, and the site: on the last tiles only, and with rows of a list. */
  names?: string
  siteId?: string | null
  /** It stands for a square of a crowded tile: the others of the square are not drawn. */
  thin?: boolean
}

export interface SelectedTree {
  id: string
  position: Position
  risk: number
  overdue: boolean
  seen: boolean
  status: TreeStatus
}

export interface RouteLine {
  letter: string
  line: readonly Position[]
  /** Where the tags hang: position, order on the day and the risk rank of the tree (for the tag's distance). */
  stops: readonly { position: Position; order: number; risk: number }[]
}

/** Everything the map shows, as one value. The port changes only what differs from the last. */
export interface MapPicture {
  ground: Ground
  /** Versions of the tiles, as the server says them. */
  version: { trees: string; ground: string }
  filter: TreeFilter
  selectedTree: SelectedTree | null
  selectedZoneId: string | null
  /** Where a tree lies if it falls on its likeliest bearing. */
  fall: readonly Position[] | null
  routes: readonly RouteLine[]
  /** The lassoed area. */
  lasso: Polygon | null
  /** Other lines and areas of a page: contours, numbered places. Drawn by kind. */
  extra: FeatureCollection<Geometry, ExtraFeature> | null
  /** The ground's own features: their water gets water lines, their names are written. */
  features: FeatureCollection<Geometry, { kind: string; name: string | null }> | null
  /** Marks smaller than on the desk, for narrow maps. */
  markScale: number
  /** Show all trees as dots only (the hotspots' map). */
  dotsOnly?: boolean
}
/**
 * `contour` is a line with its level; `zone-number` a point with its rank; `place` a point with a word; `cell` an area that can
 * be pressed, by its label; `was` and `would` outlines as they stand and as they would.
 */
export interface ExtraFeature {
  kind: 'contour' | 'zone-number' | 'place' | 'cell' | 'was' | 'would'
  label: string
  firm?: boolean
}

export interface ViewState {
  bounds: Bounds
  zoom: number
  metresPerPx: number
  /** Screen position of a place, px from the map's upper left. */
  project(lon: number, lat: number): { x: number; y: number }
  /** True below the zoom at which single trees are drawn: there are cells only. */
  cells: boolean
}

export interface MapEvents {
  view(state: ViewState): void
  pickTree(tree: MapTree): void
  pickZone(zone: { id: string; kind: ZoneKind; name: string }): void
  /** An area of `extra` was pressed; its label. */
  pickArea(label: string): void
  pickNothing(): void
  /** What lies under the hand of a mouse: the label of an area of `extra`, or a zone. */
  over(what: { area: string | null; zoneId: string | null } | null): void
  /** A person finished drawing with the tool in hand. */
  drawn(tool: MapTool, geometry: Geometry): void
  /** What was drawn or given cannot be used; the sentence says why. */
  refused(tool: MapTool, sentence: string): void
  /** Length while measuring, metres along the line. */
  measured(metres: number): void
  /** All tiles of the view are drawn. */
  idle(): void
}

/** The only door to the map engine. Pages and tests know this, never the engine. */
export interface MapPort {
  /** Draws into an element; resolves when the first picture stands. */
  open(
    element: HTMLElement,
    start: { bounds: Bounds; paddingPx: number },
    picture: MapPicture,
    tell: MapEvents,
  ): Promise<void>
  show(picture: MapPicture): void
  /** Takes a tool in hand. `edit-zone`, `carry-zone` and `move-tree` need what they start from. */
  take(tool: MapTool, from?: Feature): void
  /** Puts a point of the drawing in hand at the middle of the map; for the keyboard. */
  pointAtMiddle(): void
  /** Ends the drawing in hand: an outline under edit, or the points put at the middle. */
  finish(): void
  /** `liftPx` puts the place that far above the middle, where a sheet covers the foot of the map. */
  goTo(place: Position, zoom?: number, liftPx?: number): void
  fit(bounds: Bounds, paddingPx?: number): void
  zoomBy(steps: number): void
  /** Trees of the tiles now loaded, each once; `within` narrows to an area. */
  trees(within?: Polygon): MapTree[]
  close(): void
}
export type MapPortMaker = () => MapPort | Promise<MapPort>
