import { crewLine, dashInWidths, type Palette, zoneLines } from '@underbough/pictures'
import type {
  DataDrivenPropertyValueSpecification,
  ExpressionSpecification,
  LayerSpecification,
  StyleSpecification,
} from 'maplibre-gl'
import type { Ground } from '../look/ground.ts'
import { paletteOf } from './images.ts'

/** Names without a digit: the engine writes them bare into a canvas font (see look/fonts.css). */
const plain = ['Underbough Map']
const slanted = ['Underbough Map Italic']
const firm = ['Underbough Map Semibold']
const empty = { type: 'FeatureCollection' as const, features: [] }
type Value<T> = DataDrivenPropertyValueSpecification<T>

/** Below this zoom there are cells only; the server's tiles change there too. */
export const cellsBelowZoom = 12
/** From this zoom every tree is on its tile and says all it is narrowed by; before it the server narrows. */
const allTreesFromZoom = 16
export const tileAddress = (layer: 'trees' | 'ground', version: string, narrowing = '') =>
  `${location.origin}/api/tiles/${layer}/{z}/{x}/{y}.mvt?v=${encodeURIComponent(version)}${narrowing}`
/** The address of a tile of trees as it is asked for: the last ones are not narrowed. */
export const askedAddress = (address: string): string =>
  address.replace(new RegExp(`(/tiles/trees/${allTreesFromZoom}/[^?]*\\?v=[^&]*).*`), '$1')

/** The whole style, made from the day's or the night's colours. No glyph server: labels come from the page's typeface. */
export function styleOf(
  ground: Ground,
  version: { trees: string; ground: string },
  attribution: string,
  narrowing: string,
): StyleSpecification {
  const c = paletteOf(ground)
  return {
    version: 8,
    sources: {
      ground: {
        type: 'vector',
        tiles: [tileAddress('ground', version.ground)],
        minzoom: 4,
        maxzoom: 15,
        attribution,
        promoteId: { zones: 'id' },
      },
      trees: {
        type: 'vector',
        tiles: [tileAddress('trees', version.trees, narrowing)],
        minzoom: 4,
        maxzoom: allTreesFromZoom,
        promoteId: { trees: 'id' },
      },
      ...Object.fromEntries(
        [
          'coast',
          'ponds',
          'names',
          'zone-names',
          'fall',
          'routes',
          'tags',
          'selected',
          'extra',
          'sketch',
          'lasso',
        ].map((id) => [id, { type: 'geojson', data: empty, buffer: 256 }]),
      ),
    },
    layers: [
      ...groundLayers(c),
      ...zoneLayers(ground, c),
      ...nameLayers(c),
      ...overlayLayers(ground, c),
      ...treeLayers(ground, c),
      ...topLayers(c),
    ],
  }
}

const grow = (from: number, to: number): Value<number> => [
  'interpolate',
  ['exponential', 2],
  ['zoom'],
  12,
  from,
  19,
  to,
]
const kindIs = (...kinds: string[]): ExpressionSpecification => ['in', ['get', 'kind'], ['literal', kinds]]
const areaOf = (...kinds: string[]): ExpressionSpecification => [
  'all',
  ['==', ['geometry-type'], 'Polygon'],
  kindIs(...kinds),
]
const lineOf = (...kinds: string[]): ExpressionSpecification => [
  'all',
  ['==', ['geometry-type'], 'LineString'],
  kindIs(...kinds),
]
const onGround = { source: 'ground', 'source-layer': 'ground' } as const
const round = { 'line-join': 'round', 'line-cap': 'round' } as const

function groundLayers(c: Palette): LayerSpecification[] {
  const waterLine = (source: 'coast' | 'ponds', offset: number): LayerSpecification => ({
    id: `${source}-line-${offset}`,
    type: 'line',
    source,
    minzoom: 13,
    filter: ['!=', ['get', 'small'], true],
    paint: {
      'line-color': c['water-line'],
      'line-width': 1,
      'line-offset': source === 'coast' ? -offset : offset,
      'line-opacity': 0.9 - offset / 60,
    },
  })
  const edge = (source: 'coast' | 'ponds'): LayerSpecification => ({
    id: `${source}-edge`,
    type: 'line',
    source,
    // Half of the coast's line lies under the land.
    paint: { 'line-color': c['ink-2'], 'line-width': source === 'coast' ? 2.6 : 1.2 },
  })
  return [
    { id: 'land', type: 'background', paint: { 'background-color': c.land } },
    { id: 'waters', type: 'fill', ...onGround, filter: areaOf('water'), paint: { 'fill-color': c.water } },
    ...[9, 17, 26].map((offset) => waterLine('coast', offset)),
    edge('coast'),
    // The land over the lines, so that where two parts of it meet no water runs between.
    { id: 'lands', type: 'fill', ...onGround, filter: areaOf('land'), paint: { 'fill-color': c.land } },
    { id: 'greens', type: 'fill', ...onGround, filter: areaOf('green'), paint: { 'fill-color': c.green } },
    { id: 'ponds', type: 'fill', source: 'ponds', paint: { 'fill-color': c.water } },
    ...[5, 10].map((offset) => waterLine('ponds', offset)),
    edge('ponds'),
    {
      id: 'road-edges',
      type: 'line',
      ...onGround,
      filter: lineOf('road'),
      layout: round,
      paint: { 'line-color': c['zone-ink'], 'line-width': grow(1.8, 66) },
    },
    {
      id: 'road-areas',
      type: 'fill',
      ...onGround,
      filter: areaOf('road'),
      paint: { 'fill-color': c['zone-road'] },
    },
    {
      id: 'road-area-edges',
      type: 'line',
      ...onGround,
      filter: areaOf('road'),
      minzoom: 14,
      paint: { 'line-color': c['zone-ink'], 'line-width': 1 },
    },
    {
      id: 'roads',
      type: 'line',
      ...onGround,
      filter: lineOf('road'),
      layout: round,
      paint: { 'line-color': c['zone-road'], 'line-width': grow(1.2, 64) },
    },
    {
      id: 'path-beds',
      type: 'line',
      ...onGround,
      filter: lineOf('path'),
      minzoom: 13.5,
      layout: round,
      paint: { 'line-color': c['zone-footpath'], 'line-width': grow(0.4, 24) },
    },
    {
      id: 'paths',
      type: 'line',
      ...onGround,
      filter: lineOf('path'),
      minzoom: 13.5,
      paint: { 'line-color': c['zone-ink'], 'line-width': 1, 'line-dasharray': [1.5, 2.5] },
    },
    {
      id: 'fences',
      type: 'line',
      ...onGround,
      filter: lineOf('fence'),
      minzoom: 15,
      paint: { 'line-color': c['zone-ink'], 'line-width': 0.8, 'line-dasharray': [6, 2] },
    },
    {
      id: 'houses',
      type: 'fill',
      ...onGround,
      filter: areaOf('building'),
      minzoom: 13,
      paint: { 'fill-color': c['zone-building'], 'fill-outline-color': c['zone-ink'] },
    },
  ]
}

function zoneLayers(ground: Ground, c: Palette): LayerSpecification[] {
  const onZones = { source: 'ground', 'source-layer': 'zones' } as const
  const under: ExpressionSpecification = kindIs('road', 'footpath')
  const over: ExpressionSpecification = ['!', ['in', ['get', 'kind'], ['literal', ['road', 'footpath']]]]
  const fill = (id: string, filter: ExpressionSpecification): LayerSpecification => ({
    id,
    type: 'fill',
    ...onZones,
    filter,
    minzoom: 13,
    paint: { 'fill-pattern': ['concat', `zone/${ground}/`, ['get', 'kind']] },
  })
  const edge = (kind: keyof typeof zoneLines): LayerSpecification => {
    const { widthPx, dashPx } = zoneLines[kind]
    const dash = dashPx.length > 0 ? { 'line-dasharray': dashInWidths(dashPx, widthPx) } : {}
    return {
      id: `zone-edge-${kind}`,
      type: 'line',
      ...onZones,
      filter: kindIs(kind),
      minzoom: 13,
      paint: {
        'line-color': c['zone-ink'],
        'line-width': ['interpolate', ['linear'], ['zoom'], 14, 0.35 * widthPx, 16.5, widthPx],
        ...dash,
      },
    }
  }
  return [
    fill('zones-under', under),
    edge('road'),
    edge('footpath'),
    fill('zones', over),
    edge('building'),
    edge('play'),
    edge('seating'),
    edge('parking'),
    edge('utility'),
    {
      id: 'zone-chosen-bed',
      type: 'line',
      ...onZones,
      filter: ['==', ['get', 'id'], ''],
      paint: { 'line-color': c.paper, 'line-width': 6 },
    },
    {
      id: 'zone-chosen',
      type: 'line',
      ...onZones,
      filter: ['==', ['get', 'id'], ''],
      layout: round,
      paint: { 'line-color': c.accent, 'line-width': 2.6 },
    },
  ]
}

function nameLayers(c: Palette): LayerSpecification[] {
  const halo = { 'text-halo-color': c.paper, 'text-halo-width': 1.6 }
  const named = (
    id: string,
    what: string,
    minzoom: number,
    layout: object,
    colour: string,
  ): LayerSpecification => ({
    id,
    type: 'symbol',
    source: 'names',
    filter: ['==', ['get', 'what'], what],
    minzoom,
    layout: {
      'text-field': ['get', 'name'],
      'text-font': plain,
      'text-size': 12,
      'text-padding': 4,
      ...layout,
    },
    paint: { 'text-color': colour, ...halo },
  })
  const way = { 'symbol-placement': 'line', 'symbol-spacing': 420, 'text-max-angle': 30, 'text-size': 11.5 }
  return [
    named(
      'names-water',
      'water',
      10,
      { 'text-font': slanted, 'text-size': 14, 'text-letter-spacing': 0.1 },
      c['ink-2'],
    ),
    named(
      'names-green',
      'green',
      13,
      {
        'text-size': ['interpolate', ['linear'], ['zoom'], 14, 10, 16, 14],
        'text-letter-spacing': ['interpolate', ['linear'], ['zoom'], 14, 0.12, 16, 0.3],
        'text-transform': 'uppercase',
        'text-max-width': 30,
      },
      c['ink-2'],
    ),
    named('names-road', 'road', 15.2, way, c.ink),
    named('names-path', 'path', 16.5, way, c['ink-2']),
    {
      id: 'names-zone',
      type: 'symbol',
      source: 'zone-names',
      minzoom: 16,
      filter: [
        'all',
        // Numbered benches and rows of houses wait until there is room for them.
        [
          'any',
          ['>=', ['zoom'], 18],
          ['all', ...'0123456789'.split('').map((d) => ['!', ['in', d, ['get', 'name']]])],
        ],
      ] as unknown as ExpressionSpecification,
      layout: {
        'text-field': ['get', 'name'],
        'text-font': plain,
        'text-size': 11,
        'text-variable-anchor': ['bottom', 'top', 'right', 'left'],
        'text-radial-offset': 1.2,
        'text-padding': 6,
        'text-max-width': 9,
      },
      paint: { 'text-color': c.ink, ...halo },
    },
  ]
}

function overlayLayers(ground: Ground, c: Palette): LayerSpecification[] {
  const contour = (id: string, firmLine: boolean): LayerSpecification => ({
    id,
    type: 'line',
    source: 'extra',
    filter: ['all', ['==', ['get', 'kind'], 'contour'], ['==', ['get', 'firm'], firmLine]],
    paint: { 'line-color': c.contour, 'line-width': firmLine ? 1.6 : 0.9 },
  })
  return [
    { id: 'fall', type: 'fill', source: 'fall', paint: { 'fill-pattern': `hatch/${ground}` } },
    {
      id: 'fall-bed',
      type: 'line',
      source: 'fall',
      paint: { 'line-color': c.paper, 'line-width': 4, 'line-opacity': 0.8 },
    },
    {
      id: 'fall-edge',
      type: 'line',
      source: 'fall',
      paint: { 'line-color': c.ink, 'line-width': 1.2, 'line-dasharray': [5, 2.5] },
    },
    ...areaLayers(ground, c),
    contour('contours', false),
    contour('contours-firm', true),
    {
      id: 'contour-words',
      type: 'symbol',
      source: 'extra',
      filter: ['all', ['==', ['get', 'kind'], 'contour'], ['==', ['get', 'firm'], true]],
      layout: {
        'symbol-placement': 'line',
        'text-field': ['get', 'label'],
        'text-font': plain,
        'text-size': 11,
      },
      paint: { 'text-color': c.contour, 'text-halo-color': c.paper, 'text-halo-width': 2 },
    },
    ...routeLayers(c),
  ]
}

/** Areas of a page: cells that can be pressed, and outlines before and after a change. */
function areaLayers(ground: Ground, c: Palette): LayerSpecification[] {
  const of = (kind: string): ExpressionSpecification => ['==', ['get', 'kind'], kind]
  const firmElse = <T>(firmly: T, other: T) => ['case', ['==', ['get', 'firm'], true], firmly, other] as never
  const bed = (kind: string): LayerSpecification => ({
    id: `area-bed-${kind}`,
    type: 'line',
    source: 'extra',
    filter: of(kind),
    paint: { 'line-color': c.paper, 'line-width': 4, 'line-opacity': 0.85 },
  })
  return [
    {
      id: 'area-beds',
      type: 'fill',
      source: 'extra',
      filter: of('cell'),
      paint: { 'fill-color': c.accent, 'fill-opacity': firmElse(0.22, 0.09) },
    },
    {
      id: 'area-edges',
      type: 'line',
      source: 'extra',
      filter: of('cell'),
      paint: { 'line-color': c.accent, 'line-width': firmElse(2.6, 1) },
    },
    bed('was'),
    {
      id: 'area-was',
      type: 'line',
      source: 'extra',
      filter: of('was'),
      paint: { 'line-color': c['ink-2'], 'line-width': 1.4, 'line-dasharray': [4, 3] },
    },
    {
      id: 'area-would',
      type: 'fill',
      source: 'extra',
      filter: of('would'),
      paint: { 'fill-pattern': `hatch/${ground}` },
    },
    bed('would'),
    {
      id: 'area-would-edge',
      type: 'line',
      source: 'extra',
      filter: of('would'),
      paint: { 'line-color': c.accent, 'line-width': 2.2 },
    },
  ]
}

/** A route's bed of paper, then its line in the crew's ink and dash. Dashes cannot be read from data, so each letter has a layer. */
function routeLayers(c: Palette): LayerSpecification[] {
  const bed: LayerSpecification = {
    id: 'route-beds',
    type: 'line',
    source: 'routes',
    layout: round,
    paint: { 'line-color': c.paper, 'line-width': 5.2 },
  }
  const lines = 'ABCDEFGHIJKLMNOP'.split('').map((letter): LayerSpecification => {
    const { ink, dashPx, cap } = crewLine(letter)
    const dash = dashPx.length > 0 ? { 'line-dasharray': dashInWidths(dashPx, 2.2) } : {}
    return {
      id: `route-${letter}`,
      type: 'line',
      source: 'routes',
      filter: ['==', ['get', 'letter'], letter],
      layout: { 'line-join': 'round', 'line-cap': cap },
      paint: { 'line-color': c[ink], 'line-width': 2.2, ...dash },
    }
  })
  return [bed, ...lines]
}

/** Size of a mark by zoom; `scale` is the page's wish for narrow maps. */
export const markSize = (scale: number): Value<number> => [
  'interpolate',
  ['linear'],
  ['zoom'],
  12,
  0.42 * scale,
  14,
  0.5 * scale,
  15.5,
  0.7 * scale,
  16.5,
  scale,
]

function treeLayers(ground: Ground, c: Palette): LayerSpecification[] {
  const onTrees = { source: 'trees', 'source-layer': 'trees', minzoom: cellsBelowZoom } as const
  const standing: ExpressionSpecification = ['in', ['get', 'status'], ['literal', ['standing', 'pole']]]
  const image = [
    'concat',
    `tree/${ground}/`,
    ['get', 'risk'],
    '/',
    ['get', 'overdue'],
    '/',
    ['get', 'seen'],
    '/',
    ['get', 'status'],
  ]
  const marks = {
    'icon-allow-overlap': true,
    'icon-ignore-placement': true,
    'icon-size': markSize(1),
  } as const
  const n = (field: string) => ['to-string', ['coalesce', ['get', field], 0]]
  const cell = [
    'concat',
    `cell/${ground}/`,
    n('n1'),
    '/',
    n('n2'),
    '/',
    n('n3'),
    '/',
    n('n4'),
    '/',
    n('n0'),
    '/',
    n('overdue'),
  ]
  return [
    {
      id: 'dots',
      type: 'circle',
      ...onTrees,
      filter: standing,
      paint: { 'circle-radius': 2, 'circle-color': c['ink-3'], 'circle-opacity': 0.75 },
    },
    {
      id: 'dots-others',
      type: 'circle',
      ...onTrees,
      'source-layer': 'others',
      filter: standing,
      paint: { 'circle-radius': 2, 'circle-color': c['ink-3'], 'circle-opacity': 0.75 },
    },
    {
      id: 'remains',
      type: 'symbol',
      ...onTrees,
      minzoom: 14.5,
      filter: ['!', standing] as unknown as ExpressionSpecification,
      layout: { ...marks, 'icon-image': image as never },
    },
    {
      id: 'marks',
      type: 'symbol',
      ...onTrees,
      filter: standing,
      layout: {
        ...marks,
        'icon-image': image as never,
        'symbol-sort-key': ['+', ['*', 2, ['get', 'risk']], ['get', 'overdue']],
      },
    },
    {
      id: 'cells',
      type: 'symbol',
      source: 'trees',
      'source-layer': 'cells',
      maxzoom: cellsBelowZoom,
      layout: {
        'icon-image': cell as never,
        'icon-allow-overlap': true,
        'text-field': ['to-string', ['get', 'count']],
        'text-allow-overlap': true,
        'text-font': firm,
        'text-size': 11.5,
        'text-offset': [0, 2],
      },
      paint: { 'text-color': c.ink, 'text-halo-color': c.paper, 'text-halo-width': 1.6 },
    },
    {
      id: 'selected',
      type: 'symbol',
      source: 'selected',
      layout: { 'icon-image': ['get', 'image'], 'icon-allow-overlap': true, 'icon-ignore-placement': true },
    },
  ]
}

function topLayers(c: Palette): LayerSpecification[] {
  return [
    {
      id: 'tags',
      type: 'symbol',
      source: 'tags',
      minzoom: 14,
      layout: {
        'icon-image': ['get', 'image'],
        'icon-anchor': ['match', ['get', 'side'], 'left', 'right', 'left'],
        'icon-offset': ['array', 'number', 2, ['get', 'offset']],
        'icon-padding': 2,
        'symbol-sort-key': ['get', 'weight'],
      },
    },
    {
      id: 'extra-numbers',
      type: 'symbol',
      source: 'extra',
      filter: ['in', ['get', 'kind'], ['literal', ['zone-number', 'place']]],
      layout: {
        'text-field': ['get', 'label'],
        'text-font': firm,
        'text-size': 13,
        'text-allow-overlap': true,
        'symbol-sort-key': ['case', ['==', ['get', 'firm'], true], 1, 0],
      },
      paint: {
        'text-color': ['case', ['==', ['get', 'firm'], true], c.paper, c.ink],
        'text-halo-color': ['case', ['==', ['get', 'firm'], true], c.ink, c.paper],
        'text-halo-width': 4,
      },
    },
    {
      id: 'lasso-area',
      type: 'fill',
      source: 'lasso',
      paint: { 'fill-color': c.accent, 'fill-opacity': 0.1 },
    },
    {
      id: 'lasso-edge',
      type: 'line',
      source: 'lasso',
      paint: { 'line-color': c.accent, 'line-width': 2, 'line-dasharray': [3, 2] },
    },
    {
      id: 'sketch-line',
      type: 'line',
      source: 'sketch',
      paint: { 'line-color': c.accent, 'line-width': 2.2 },
    },
    {
      id: 'sketch-points',
      type: 'circle',
      source: 'sketch',
      filter: ['==', ['geometry-type'], 'Point'],
      paint: {
        'circle-radius': 4,
        'circle-color': c.accent,
        'circle-stroke-color': c.paper,
        'circle-stroke-width': 1.5,
      },
    },
  ]
}
