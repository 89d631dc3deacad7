import type { Palette } from '@underbough/pictures'
import type { Feature, Geometry, Polygon, Position } from 'geojson'
import type { Map as Engine } from 'maplibre-gl'
import {
  type HexColor,
  TerraDraw,
  TerraDrawFreehandMode,
  TerraDrawLineStringMode,
  TerraDrawPolygonMode,
  TerraDrawSelectMode,
  ValidateNotSelfIntersecting,
} from 'terra-draw'
import { TerraDrawMapLibreGLAdapter } from 'terra-draw-maplibre-gl-adapter'
import type { MapTool } from './port.ts'

const modeOf: Partial<Record<MapTool, string>> = {
  lasso: 'freehand',
  measure: 'linestring',
  'draw-zone': 'polygon',
  'edit-zone': 'select',
  'carry-zone': 'carry',
}
const crossing = 'The outline crosses itself. Draw it so that no side meets another.'

export interface DrawTells {
  drawn(tool: MapTool, geometry: Geometry): void
  refused(tool: MapTool, sentence: string): void
  measured(metres: number): void
}

/** Drawing by hand: lasso, measure, a zone's outline. Takes one tool at a time; an outline that cannot be used is refused in words. */
export class DrawingHand {
  private hand: TerraDraw
  private tool: MapTool = 'move'
  private editedId: string | number | null = null

  constructor(
    map: Engine,
    palette: Palette,
    private tell: DrawTells,
  ) {
    const ink = palette.accent as HexColor
    const paper = palette.paper as HexColor
    const area = { fillColor: ink, fillOpacity: 0.12, outlineColor: ink, outlineWidth: 2.2 }
    const uncrossed = (
      feature: Parameters<typeof ValidateNotSelfIntersecting>[0],
      { updateType }: { updateType: string },
    ) =>
      updateType === 'finish' || updateType === 'commit'
        ? ValidateNotSelfIntersecting(feature)
        : { valid: true as const }
    this.hand = new TerraDraw({
      adapter: new TerraDrawMapLibreGLAdapter({ map, prefixId: 'hand' }),
      modes: [
        new TerraDrawFreehandMode({
          styles: area,
          drawInteraction: 'click-drag',
          minDistance: 8,
          cursors: { start: 'crosshair', close: 'crosshair' },
        }),
        new TerraDrawLineStringMode({
          styles: {
            lineStringColor: ink,
            lineStringWidth: 2.2,
            closingPointColor: ink,
            closingPointOutlineColor: paper,
          },
        }),
        new TerraDrawPolygonMode({
          styles: { ...area, closingPointColor: ink, closingPointOutlineColor: paper },
          validation: uncrossed as never,
        }),
        new TerraDrawSelectMode({
          styles: {
            selectedPolygonColor: ink,
            selectedPolygonFillOpacity: 0.12,
            selectedPolygonOutlineColor: ink,
            selectedPolygonOutlineWidth: 2.2,
            selectionPointColor: ink,
            selectionPointOutlineColor: paper,
            midPointColor: paper,
            midPointOutlineColor: ink,
            midPointOutlineWidth: 2,
          },
          flags: {
            polygon: {
              feature: {
                draggable: false,
                coordinates: { draggable: true, midpoints: true, deletable: true },
              },
            },
          },
          allowManualDeselection: false,
        }),
        new TerraDrawSelectMode({
          modeName: 'carry',
          styles: {
            selectedPolygonColor: ink,
            selectedPolygonFillOpacity: 0.18,
            selectedPolygonOutlineColor: ink,
            selectedPolygonOutlineWidth: 2.6,
          },
          flags: { polygon: { feature: { draggable: true } } },
          allowManualDeselection: false,
        }),
      ],
    })
    this.hand.on('finish', (id, context) => this.finished(id, context.action))
    this.hand.on('change', () => this.changed())
  }

  take(tool: MapTool, from?: Feature): void {
    this.tool = tool
    this.editedId = null
    const mode = modeOf[tool]
    if (!mode) {
      if (this.hand.enabled) {
        this.hand.clear()
        this.hand.stop()
      }
      return
    }
    if (!this.hand.enabled) this.hand.start()
    this.hand.clear()
    this.hand.setMode(mode)
    if (tool === 'edit-zone' || tool === 'carry-zone') this.hold(tool, from)
  }

  private hold(tool: MapTool, from?: Feature): void {
    const geometry = from?.geometry
    if (geometry?.type !== 'Polygon' || geometry.coordinates.length > 1) {
      this.tell.refused(
        tool,
        tool === 'carry-zone'
          ? 'This zone has parts or a hole, which cannot be carried by hand here. Type how far and which way.'
          : 'This zone has parts or a hole, which cannot be edited by hand here. Draw its parts as zones of their own, or bring the outline in as a file.',
      )
      return
    }
    const rounded = (p: Position): Position => [Math.round(p[0]! * 1e9) / 1e9, Math.round(p[1]! * 1e9) / 1e9]
    const plain: Polygon = {
      type: 'Polygon',
      coordinates: geometry.coordinates.map((ring) => ring.map(rounded)),
    }
    const [answer] = this.hand.addFeatures([
      { type: 'Feature', geometry: plain, properties: { mode: 'polygon' } },
    ])
    if (!answer?.valid || answer.id === undefined) {
      this.tell.refused(
        tool,
        `This outline cannot be edited by hand here${answer && 'reason' in answer && answer.reason ? `: ${answer.reason}` : ''}. It is kept as it was.`,
      )
      return
    }
    this.editedId = answer.id
    this.hand.selectFeature(answer.id)
  }

  /** Ends what is in hand: the outline under edit, or the line being measured. */
  finish(): void {
    if (this.tool !== 'edit-zone' || this.editedId === null) return
    const feature = this.hand.getSnapshotFeature(this.editedId)
    if (!feature) return
    if (!ValidateNotSelfIntersecting(feature).valid) this.tell.refused('edit-zone', crossing)
    else this.tell.drawn('edit-zone', feature.geometry as Geometry)
  }

  private finished(id: string | number, action: string): void {
    if (this.tool === 'carry-zone' && action === 'dragFeature') {
      const carried = this.hand.getSnapshotFeature(id)
      if (carried) this.tell.drawn('carry-zone', carried.geometry as Geometry)
      return
    }
    if (action !== 'draw') return
    const feature = this.hand.getSnapshotFeature(id)
    if (!feature || this.tool === 'measure') return
    const tool = this.tool
    const geometry = feature.geometry as Geometry
    // The hand is still inside its own event; it is emptied after it.
    queueMicrotask(() => {
      if (tool === 'lasso') this.hand.clear()
      if (tool === 'draw-zone' && !ValidateNotSelfIntersecting(feature).valid) {
        this.hand.clear()
        this.tell.refused(tool, crossing)
      } else this.tell.drawn(tool, geometry)
    })
  }

  private changed(): void {
    if (this.tool !== 'measure') return
    const line = this.hand.getSnapshot().find((f) => f.geometry.type === 'LineString')
    if (line) this.tell.measured(lengthM(line.geometry.coordinates as Position[]))
  }

  close(): void {
    if (this.hand.enabled) this.hand.stop()
  }
}

/** Length of a line on the mean sphere, metres: within 0.6 % of the ellipsoid, which is finer than a hand on a map. */
export function lengthM(line: readonly Position[]): number {
  const rad = Math.PI / 180
  let sum = 0
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1]!, line[i]!]
    const h =
      Math.sin(((b[1]! - a[1]!) * rad) / 2) ** 2 +
      Math.cos(a[1]! * rad) * Math.cos(b[1]! * rad) * Math.sin(((b[0]! - a[0]!) * rad) / 2) ** 2
    sum += 2 * 6_371_008.8 * Math.asin(Math.sqrt(h))
  }
  return sum
}
