import { colourCss } from '@underbough/pictures'

/** Hangs the colours on the page. They have one source, in pictures; a style sheet made here needs no allowance from a content policy. */
export function startColours(): void {
  const sheet = new CSSStyleSheet()
  sheet.replaceSync(colourCss())
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet]
}
