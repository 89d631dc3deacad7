import 'maplibre-gl/dist/maplibre-gl.css'
import type { Position, TreeStatus, ZoneKind } from '@underbough/model'
import type { Feature, FeatureCollection, Geometry, Polygon } from 'geojson'
import {
  AttributionControl,
  Map as Engine,
  type GeoJSONSource,
  type MapGeoJSONFeature,
  setWorkerUrl,
  type VectorTileSource,
} from 'maplibre-gl'
import workerUrl from 'maplibre-gl/dist/maplibre-gl-worker.mjs?worker&url'
import { contains } from './area.ts'
import { DrawingHand, lengthM } from './draw.ts'
import { filterExpression, narrowingOf } from './filter.ts'
import { imageOf, imageRatio, paletteOf } from './images.ts'
import { nameFeatures, shores, zoneNameFeatures } from './names.ts'
import type { MapEvents, MapPicture, MapPort, MapTool, MapTree, RouteLine } from './port.ts'
import type { Bounds } from './squares.ts'
import { askedAddress, cellsBelowZoom, markSize, styleOf, tileAddress } from './style.ts'

setWorkerUrl(workerUrl)

const pickable = ['marks', 'dots', 'dots-others', 'remains'] as const
/** A brush in hand asks for narrowed tiles when it rests. */
const NARROW_AFTER_MS = 250
const zoneLayers = ['zones', 'zones-under'] as const
const areaLayers = ['area-beds'] as const
const collection = (features: Feature[]): FeatureCollection => ({ type: 'FeatureCollection', features })
const feature = (geometry: Geometry, properties: Record<string, unknown> = {}): Feature => ({
  type: 'Feature',
  geometry,
  properties,
})
const attribution = 'Ground: the organisation’s own'

/** The map engine behind the port. WebGL2 is needed; without it `open` rejects and the page says so. */
export class MapLibrePort implements MapPort {
  private map: Engine | null = null
  private hand: DrawingHand | null = null
  private shown: MapPicture | null = null
  private tell: MapEvents | null = null
  private tool: MapTool = 'move'
  private held: Feature | undefined
  private points: Position[] = []
  private zonesNamed = ''
  private overArea: string | null = null
  private overZone: string | null = null
  private narrowing: ReturnType<typeof setTimeout> | undefined
  private closed = false

  async open(
    element: HTMLElement,
    start: { bounds: Bounds; paddingPx: number },
    picture: MapPicture,
    tell: MapEvents,
  ): Promise<void> {
    this.tell = tell
    const labels = [
      '16px "Underbough Map"',
      'italic 16px "Underbough Map Italic"',
      '600 16px "Underbough Map Semibold"',
    ]
    // Both subsets, or the first “Ł” would be drawn in another face and stay so.
    await Promise.all(labels.map((font) => document.fonts.load(font, 'Aa Łő'))).catch(() => [])
    // Put away while the fonts came: no map is made, or it would be left behind.
    if (this.closed) return
    const map = new Engine({
      container: element,
      style: styleOf(picture.ground, picture.version, attribution, narrowingFor(picture)),
      transformRequest: (url) => ({ url: askedAddress(url) }),
      bounds: [...start.bounds] as [number, number, number, number],
      fitBoundsOptions: { padding: start.paddingPx },
      attributionControl: false,
      dragRotate: false,
      pitchWithRotate: false,
      touchPitch: false,
      maxZoom: 21,
      fadeDuration: 0,
      keyboard: true,
    })
    this.map = map
    map.touchZoomRotate.disableRotation()
    map.keyboard.disableRotation()
    map.addControl(new AttributionControl({ compact: false }), 'bottom-left')
    map.setMissingStyleImageResolver(async (name) => {
      const image = await imageOf(name)
      if (image && !map.hasImage(name)) map.addImage(name, image, { pixelRatio: imageRatio })
    })
    map.on('move', () => this.tellView())
    map.on('resize', () => this.tellView())
    map.on('idle', () => {
      // For whoever measures how soon a map stands.
      performance.mark('map-idle')
      this.writeZoneNames()
      this.tell?.idle()
    })
    map.on('click', (event) =>
      this.pressed([event.point.x, event.point.y], [event.lngLat.lng, event.lngLat.lat]),
    )
    map.on('mousemove', (event) => this.hover([event.point.x, event.point.y]))
    await new Promise<void>((resolve, reject) => {
      map.once('style.load', () => resolve())
      map.once('error', (e) => (map.isStyleLoaded() ? undefined : reject(e.error)))
    })
    map.on('error', () => undefined)
    if (this.closed) return
    this.hand = new DrawingHand(map, paletteOf(picture.ground), tell)
    this.show(picture)
    this.tellView()
  }

  show(next: MapPicture): void {
    const { map } = this
    if (!map) return
    const last = this.shown
    const anew =
      last !== null &&
      (last.ground !== next.ground ||
        last.version.trees !== next.version.trees ||
        last.version.ground !== next.version.ground)
    if (anew) {
      this.zonesNamed = ''
      map.setStyle(styleOf(next.ground, next.version, attribution, narrowingFor(next)), { diff: true })
      this.hand?.close()
      this.hand = new DrawingHand(map, paletteOf(next.ground), this.tell!)
      if (this.tool !== 'move') this.hand.take(this.tool, this.held)
    }
    // After a new style everything of ours is put back; otherwise only what differs.
    const old = anew ? null : last
    const differs = (part: keyof MapPicture) => !old || old[part] !== next[part]
    if (!old || JSON.stringify(old.filter) !== JSON.stringify(next.filter) || old.dotsOnly !== next.dotsOnly)
      this.filterTrees(next)
    if (old && narrowingFor(old) !== narrowingFor(next)) this.narrowLater(next)
    if (differs('markScale')) map.setLayoutProperty('marks', 'icon-size', markSize(next.markScale))
    if (differs('selectedTree')) this.showSelected(next)
    if (differs('selectedZoneId'))
      for (const id of ['zone-chosen', 'zone-chosen-bed'])
        map.setFilter(id, ['==', ['get', 'id'], next.selectedZoneId ?? ''])
    if (differs('fall'))
      this.put('fall', next.fall ? [feature({ type: 'Polygon', coordinates: [closed(next.fall)] })] : [])
    if (differs('routes')) this.showRoutes(next.ground, next.routes)
    if (differs('lasso')) this.put('lasso', next.lasso ? [feature(next.lasso)] : [])
    if (differs('extra')) this.put('extra', next.extra?.features ?? [])
    if (differs('features')) {
      const { coast, ponds } = next.features ? shores(next.features) : { coast: [], ponds: [] }
      this.put('coast', coast)
      this.put('ponds', ponds)
      this.put('names', next.features ? nameFeatures(next.features).features : [])
    }
    this.shown = next
  }

  private put(source: string, features: Feature[]): void {
    this.map?.getSource<GeoJSONSource>(source)?.setData(collection(features))
  }

  /** Tiles cut a zone into pieces and would name each; the names are put together from what is loaded. */
  private writeZoneNames(): void {
    if (!this.map || this.map.getZoom() < 15.8) return
    const pieces = this.map
      .querySourceFeatures('ground', { sourceLayer: 'zones' })
      .map(({ properties, geometry }) => ({
        id: String(properties.id),
        kind: String(properties.kind),
        name: String(properties.name ?? ''),
        geometry,
      }))
    const key = [...new Set(pieces.map((p) => p.id + p.name))].sort().join()
    if (key === this.zonesNamed) return
    this.zonesNamed = key
    this.put('zone-names', zoneNameFeatures(pieces))
  }

  /** Asks for narrowed tiles once the narrowing has rested, and those on their way have come: they would stay as first asked for. */
  private narrowLater(picture: MapPicture): void {
    clearTimeout(this.narrowing)
    this.narrowing = setTimeout(() => {
      const source = this.map?.getSource<VectorTileSource>('trees')
      if (!this.map || !source) return
      if (!this.map.areTilesLoaded()) return this.narrowLater(picture)
      source.setTiles([tileAddress('trees', picture.version.trees, narrowingFor(picture))])
    }, NARROW_AFTER_MS)
  }

  private filterTrees(picture: MapPicture): void {
    const { map } = this
    if (!map) return
    const standing = ['in', ['get', 'status'], ['literal', ['standing', 'pole']]]
    const wanted = picture.dotsOnly ? ['literal', false] : filterExpression(picture.filter)
    map.setFilter('marks', ['all', standing, wanted] as never)
    map.setFilter('dots', ['all', standing, ['!', wanted]] as never)
  }

  private showSelected({ ground, selectedTree: tree }: MapPicture): void {
    const image =
      tree &&
      `tree/${ground}/${tree.risk}/${Number(tree.overdue)}/${Number(tree.seen)}/${tree.status}/selected`
    this.put('selected', tree ? [feature({ type: 'Point', coordinates: [...tree.position] }, { image })] : [])
  }

  private showRoutes(ground: string, routes: readonly RouteLine[]): void {
    this.put(
      'routes',
      routes.map(({ letter, line }) =>
        feature({ type: 'LineString', coordinates: line.map((p) => [...p]) }, { letter }),
      ),
    )
    const tags = routes.flatMap(({ letter, stops }) =>
      stops.map(({ position, order, risk }, i) =>
        feature(
          { type: 'Point', coordinates: [...position] },
          {
            image: `tag/${ground}/${letter}/${order}/right`,
            side: 'right',
            offset: [6 + 2.7 * Math.max(1, risk), 0],
            weight: i === 0 || i === stops.length - 1 ? 0 : i % 4 === 3 ? 1 : 2,
          },
        ),
      ),
    )
    this.put('tags', tags)
  }

  take(tool: MapTool, from?: Feature): void {
    this.tool = tool
    this.held = from
    this.points = []
    this.sketch()
    this.hand?.take(tool, from)
    if (this.map) this.map.getCanvas().style.cursor = tool === 'move' ? '' : 'crosshair'
  }

  pointAtMiddle(): void {
    const middle = this.map?.getCenter()
    if (!middle) return
    const place: Position = [middle.lng, middle.lat]
    if (this.tool === 'add-tree' || this.tool === 'move-tree') {
      this.tell?.drawn(this.tool, { type: 'Point', coordinates: [...place] })
      return
    }
    this.points.push(place)
    this.sketch()
    if (this.tool === 'measure') this.tell?.measured(lengthM(this.points))
  }

  private sketch(): void {
    const line = this.points.map((p) => [...p])
    this.put('sketch', [
      ...(line.length > 1 ? [feature({ type: 'LineString', coordinates: line })] : []),
      ...line.map((coordinates) => feature({ type: 'Point', coordinates })),
    ])
  }

  finish(): void {
    if ((this.tool === 'draw-zone' || this.tool === 'lasso') && this.points.length > 2) {
      const ring = closed(this.points)
      this.points = []
      this.sketch()
      this.tell?.drawn(this.tool, { type: 'Polygon', coordinates: [ring] })
    } else this.hand?.finish()
  }

  goTo(place: Position, zoom?: number, liftPx = 0): void {
    if (!this.map) return
    const near = Math.max(this.map.getZoom(), zoom ?? 0)
    this.map.easeTo({ center: [place[0], place[1]], zoom: near, offset: [0, -liftPx], duration: 180 })
  }
  fit(bounds: Bounds, paddingPx = 30): void {
    this.map?.fitBounds([...bounds] as [number, number, number, number], {
      padding: paddingPx,
      duration: 180,
      maxZoom: 18,
    })
  }
  zoomBy(steps: number): void {
    if (this.map) this.map.easeTo({ zoom: this.map.getZoom() + steps, duration: 180 })
  }

  trees(within?: Polygon): MapTree[] {
    const { map } = this
    if (!map) return []
    const seen = new Map<string, MapTree>()
    const bounds = map.getBounds()
    for (const raw of map.querySourceFeatures('trees', { sourceLayer: 'trees' })) {
      const tree = treeOf(raw)
      if (seen.has(tree.id)) continue
      const inside = within
        ? contains(within, tree.position)
        : bounds.contains([tree.position[0], tree.position[1]])
      if (inside) seen.set(tree.id, tree)
    }
    return [...seen.values()]
  }

  close(): void {
    this.closed = true
    clearTimeout(this.narrowing)
    this.hand?.close()
    this.map?.remove()
    this.map = null
  }

  private pressed(at: [number, number], place: Position): void {
    if (this.tool === 'add-tree' || this.tool === 'move-tree') {
      this.tell?.drawn(this.tool, { type: 'Point', coordinates: [...place] })
      return
    }
    if (this.tool !== 'move' || !this.map) return
    const tree = this.shown?.dotsOnly ? null : this.nearest(at)
    if (tree) {
      this.tell?.pickTree(tree)
      return
    }
    const [area] = this.map.queryRenderedFeatures(at, { layers: [...areaLayers] })
    if (area) {
      this.tell?.pickArea(String(area.properties.label))
      return
    }
    const [zone] = this.map.queryRenderedFeatures(at, { layers: [...zoneLayers] })
    if (zone)
      this.tell?.pickZone({
        id: String(zone.properties.id),
        kind: zone.properties.kind as ZoneKind,
        name: String(zone.properties.name ?? ''),
      })
    else {
      const [cell] = this.map.queryRenderedFeatures(at, { layers: ['cells'] })
      if (cell)
        this.map.easeTo({ center: this.map.unproject(at), zoom: this.map.getZoom() + 2, duration: 180 })
      else this.tell?.pickNothing()
    }
  }

  /** A finger is wider than a mark: the nearest tree within 14 px. */
  private nearest([x, y]: [number, number]): MapTree | null {
    const near = this.map!.queryRenderedFeatures(
      [
        [x - 14, y - 14],
        [x + 14, y + 14],
      ],
      { layers: [...pickable] },
    )
    const far = (t: MapTree) => {
      const p = this.map!.project([t.position[0], t.position[1]])
      return (p.x - x) ** 2 + (p.y - y) ** 2
    }
    return near.map(treeOf).sort((a, b) => far(a) - far(b))[0] ?? null
  }

  private hover(at: [number, number]): void {
    if (this.tool !== 'move' || !this.map) return
    const under = this.map.queryRenderedFeatures(at, {
      layers: [...pickable, ...areaLayers, ...zoneLayers, 'cells'],
    })
    this.map.getCanvas().style.cursor = under.length > 0 ? 'pointer' : ''
    const nameOf = (layers: readonly string[], name: string) => {
      const found = under.find(({ layer }) => layers.includes(layer.id))
      return found ? String(found.properties[name]) : null
    }
    const area = nameOf(areaLayers, 'label')
    const zoneId = nameOf(zoneLayers, 'id')
    if (area === this.overArea && zoneId === this.overZone) return
    this.overArea = area
    this.overZone = zoneId
    this.tell?.over(area || zoneId ? { area, zoneId } : null)
  }

  private tellView(): void {
    const { map } = this
    if (!map) return
    const b = map.getBounds()
    const metresPerPx =
      (Math.cos((map.getCenter().lat * Math.PI) / 180) * 40_075_016.7) / (512 * 2 ** map.getZoom())
    this.tell?.view({
      bounds: [b.getWest(), b.getSouth(), b.getEast(), b.getNorth()],
      zoom: map.getZoom(),
      metresPerPx,
      project: (lon, lat) => map.project([lon, lat]),
      cells: map.getZoom() < cellsBelowZoom,
    })
  }
}

/** Where every tree is a dot, tiles are whole. */
const narrowingFor = ({ dotsOnly, filter }: MapPicture) => (dotsOnly ? '' : narrowingOf(filter))

function treeOf(raw: MapGeoJSONFeature | Feature): MapTree {
  const p = raw.properties ?? {}
  const at = raw.geometry.type === 'Point' ? raw.geometry.coordinates : [0, 0]
  return {
    id: String(p.id),
    tag: String(p.tag ?? ''),
    risk: Number(p.risk ?? 0),
    overdue: Number(p.overdue) === 1,
    seen: Number(p.seen) === 1,
    ratingOpen: Number(p.open) === 1,
    status: (p.status as TreeStatus) ?? 'standing',
    week: p.week === undefined ? null : Number(p.week),
    position: [at[0]!, at[1]!],
    ...(p.thin === undefined ? {} : { thin: true }),
    ...(p.names === undefined ? {} : { names: String(p.names), siteId: p.site ? String(p.site) : null }),
  }
}

const closed = (ring: readonly Position[]): number[][] => {
  const [first, last] = [ring[0]!, ring[ring.length - 1]!]
  const out = ring.map((p) => [...p])
  return first[0] === last[0] && first[1] === last[1] ? out : [...out, [...first]]
}
