import { colourTokens, dayPalette, nightPalette, type Palette, sunPalette } from './colours.ts'

const block = (palette: Palette) => colourTokens.map((token) => `  --${token}: ${palette[token]};`).join('\n')

/**
 * The colours as custom properties: paper by day, bark where the system or `data-ground="bark"` on the root asks for it.
 * `data-ground="paper"` holds the day against the system's wish; `data-ground="sun"` is black on white, for glare.
 */
export function colourCss(): string {
  const night = `color-scheme: dark;\n${block(nightPalette)}`
  return [
    `:root {\n  color-scheme: light;\n${block(dayPalette)}\n}`,
    `@media (prefers-color-scheme: dark) {\n:root:not([data-ground="paper"]) {\n  ${night}\n}\n}`,
    `:root[data-ground="bark"] {\n  ${night}\n}`,
    `:root[data-ground="sun"] {\n  color-scheme: light;\n${block(sunPalette)}\n}`,
    `@media print {\n:root:root, :root:root[data-ground] {\n  color-scheme: light;\n${block(dayPalette)}\n  --paper: #ffffff;\n}\n}`,
  ].join('\n')
}
