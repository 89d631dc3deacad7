import type { RiskWord } from '@underbough/model'
import { riskWords } from '@underbough/model'
import { type ColourToken, colourTokens, type Palette } from './colours.ts'

/** How a drawing gets its colours: a custom property on a page, a real colour where there is no page. */
export type Paint = (token: ColourToken) => string

export const cssPaint: Paint = (token) => `var(--${token})`
export const paintFrom =
  (palette: Palette): Paint =>
  (token) =>
    palette[token]

/** Token of a risk word, or of a tree whose rating is not closed. For marks and bars only, never for the word itself. */
export const riskToken = (risk: RiskWord | null): ColourToken =>
  risk === null ? 'ink-3' : (`risk-${riskWords.indexOf(risk) + 1}` as ColourToken)

const FACE = 'Source Sans 3, sans-serif'

/** A drawing's markup with its custom properties replaced by real colours: for a document, a raster, a map. Throws RangeError on an unknown property. */
export function paintSvg(markup: string, palette: Palette): string {
  return markup.replace(/var\(--([a-z0-9-]+)\)/g, (_, name: string) => {
    if (name === 'face') return FACE
    if (!(colourTokens as string[]).includes(name)) throw new RangeError(`no colour is called “${name}”`)
    return palette[name as ColourToken]
  })
}
