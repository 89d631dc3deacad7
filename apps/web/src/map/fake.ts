import type { Position } from '@underbough/model'
import type { Feature, Geometry, Polygon } from 'geojson'
import { contains } from './area.ts'
import type { MapEvents, MapPicture, MapPort, MapTool, MapTree } from './port.ts'
import type { Bounds } from './squares.ts'

/** A map without an engine, for tests: 1000 px square, north up, degrees straight to pixels. It remembers what it was shown. */
export class FakeMap implements MapPort {
  readonly pictures: MapPicture[] = []
  tool: MapTool = 'move'
  held: Feature | undefined
  opened = false
  private tell: MapEvents | null = null
  private bounds: Bounds = [0, 0, 1, 1]

  constructor(private standing: MapTree[] = []) {}

  async open(
    _: HTMLElement,
    start: { bounds: Bounds; paddingPx: number },
    picture: MapPicture,
    tell: MapEvents,
  ): Promise<void> {
    this.tell = tell
    this.opened = true
    this.show(picture)
    this.fit(start.bounds)
    tell.idle()
  }
  show(picture: MapPicture): void {
    this.pictures.push(picture)
  }
  take(tool: MapTool, from?: Feature): void {
    this.tool = tool
    this.held = from
  }
  pointAtMiddle(): void {
    const [w, s, e, n] = this.bounds
    this.draw({ type: 'Point', coordinates: [(w + e) / 2, (s + n) / 2] })
  }
  finish(): void {
    if (this.held) this.draw(this.held.geometry)
  }
  goTo([lon, lat]: Position): void {
    const [w, s, e, n] = this.bounds
    this.fit([lon - (e - w) / 2, lat - (n - s) / 2, lon + (e - w) / 2, lat + (n - s) / 2])
  }
  fit(bounds: Bounds): void {
    this.bounds = bounds
    const [w, s, e, n] = bounds
    const project = (lon: number, lat: number) => ({
      x: ((lon - w) / (e - w)) * 1000,
      y: ((n - lat) / (n - s)) * 1000,
    })
    this.tell?.view({ bounds, zoom: 16, metresPerPx: 1, project, cells: false })
  }
  zoomBy(): void {}
  trees(within?: Polygon): MapTree[] {
    return this.standing.filter((tree) => !within || contains(within, tree.position))
  }
  close(): void {
    this.opened = false
  }

  /** As if a person pressed a tree or drew something. */
  press(tree: MapTree): void {
    this.tell?.pickTree(tree)
  }
  draw(geometry: Geometry): void {
    this.tell?.drawn(this.tool, geometry)
  }
}
