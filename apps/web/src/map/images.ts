import { type RiskWord, riskWords, type TreeStatus, type ZoneKind } from '@underbough/model'
import {
  dayPalette,
  type MarkSpec,
  markSvg,
  nightPalette,
  type Palette,
  sunPalette,
} from '@underbough/pictures'
import type { Ground } from '../look/ground.ts'

/** Every image is twice as fine as the screen's pixel, so that rings stay crisp. */
export const imageRatio = 2
const palettes: Record<Ground, Palette> = { paper: dayPalette, bark: nightPalette, sun: sunPalette }
export const paletteOf = (ground: Ground): Palette => palettes[ground]
/** The ground that an image's name bears; paper where it bears none of ours. */
const groundOf = (word: string | undefined): Ground => (word === 'bark' || word === 'sun' ? word : 'paper')

/**
 * Names of images are sentences the style can put together from a tile's own fields, so that no list of images is kept:
 * `tree/paper/3/1/1/standing`, `cell/bark/9/4/1/0/2/3`, `zone/paper/play`, `tag/paper/B/12/right`, `hatch/paper`.
 */
export function specOf(name: string): { spec: MarkSpec; ground: Ground } | null {
  const [what, groundWord, ...rest] = name.split('/')
  const ground = groundOf(groundWord)
  if (what === 'tree') {
    const [risk, overdue, seen, status, selected] = rest
    return {
      ground,
      spec: {
        mark: 'tree',
        risk: riskOfRank(Number(risk)),
        overdue: overdue === '1',
        visited: seen === '1',
        status: (status as TreeStatus) || 'standing',
        selected: selected === 'selected',
      },
    }
  }
  if (what === 'cell') {
    const [low, moderate, high, extreme, unrated, overdue] = rest.map(Number) as [
      number,
      number,
      number,
      number,
      number,
      number,
    ]
    return {
      ground,
      spec: { mark: 'cell', counts: { low, moderate, high, extreme }, unrated, overdue, label: false },
    }
  }
  if (what === 'zone') return { ground, spec: { mark: 'zone', kind: rest[0] as ZoneKind } }
  return null
}
const riskOfRank = (rank: number): RiskWord | null => riskWords[rank - 1] ?? null

/** Draws the image of a name; null when the name is none of ours. */
export async function imageOf(name: string): Promise<ImageData | null> {
  if (name.startsWith('tag/')) return tagImage(name)
  if (name.startsWith('hatch/')) return hatchImage(groundOf(name.slice('hatch/'.length)))
  const found = specOf(name)
  if (!found) return null
  const { svg, width, height } = markSvg(found.spec, paletteOf(found.ground), imageRatio)
  const picture = new Image(width, height)
  picture.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`
  await picture.decode()
  return painted(width, height, (pen) => pen.drawImage(picture, 0, 0, width, height))
}

function painted(width: number, height: number, paint: (pen: CanvasRenderingContext2D) => void): ImageData {
  const canvas = document.createElement('canvas')
  canvas.width = width
  canvas.height = height
  const pen = canvas.getContext('2d', { willReadFrequently: true })!
  paint(pen)
  return pen.getImageData(0, 0, width, height)
}

/** A luggage tag with a crew's letter and the stop's number. Drawn with a pen: an image made of SVG cannot use the page's typeface. */
async function tagImage(name: string): Promise<ImageData> {
  const [, groundWord, letter = 'A', order = '', side = 'right'] = name.split('/')
  const palette = paletteOf(groundOf(groundWord))
  const words = `${letter}${order}`
  const font = '700 11px "Source Sans 3"'
  await document.fonts.load(font).catch(() => [])
  const width = Math.ceil(12 + words.length * 5.6) + 2
  const k = imageRatio
  const ink = `crew-${'abcd'[(letter.charCodeAt(0) - 65) % 4] ?? 'a'}` as keyof Palette
  return painted(width * k, 16 * k, (pen) => {
    pen.scale(k, k)
    if (side === 'left') {
      pen.translate(width, 0)
      pen.scale(-1, 1)
    }
    pen.beginPath()
    for (const [x, y] of [
      [1, 8],
      [6, 1.5],
      [width - 1, 1.5],
      [width - 1, 14.5],
      [6, 14.5],
    ] as const)
      pen.lineTo(x, y)
    pen.closePath()
    pen.fillStyle = palette[ink]
    pen.fill()
    pen.lineWidth = 1.2
    pen.strokeStyle = palette.paper
    pen.stroke()
    if (side === 'left') {
      pen.translate(width, 0)
      pen.scale(-1, 1)
    }
    pen.font = font
    pen.fillStyle = palette.paper
    pen.textAlign = 'center'
    pen.fillText(words, width / 2 + (side === 'left' ? -2 : 2), 12)
  })
}

/** Light hatching where a tree would lie. */
function hatchImage(ground: Ground): ImageData {
  const k = imageRatio
  return painted(8 * k, 8 * k, (pen) => {
    pen.scale(k, k)
    pen.strokeStyle = paletteOf(ground)['ink-2']
    pen.globalAlpha = 0.55
    pen.lineWidth = 0.7
    pen.beginPath()
    for (const d of [-4, 0, 4, 8, 12]) {
      pen.moveTo(d, 8)
      pen.lineTo(d + 8, 0)
    }
    pen.stroke()
  })
}
