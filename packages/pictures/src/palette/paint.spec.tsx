import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { WordPath } from '../rating/word-path.tsx'
import { dayPalette } from './colours.ts'
import { paintSvg, riskToken } from './paint.ts'

describe('paint', () => {
  it('turns a picture of a page into one that stands alone', () => {
    const drawn = renderToStaticMarkup(
      <WordPath
        path={{
          failure: 'possible',
          impact: 'low',
          joint: 'unlikely',
          consequences: 'minor',
          risk: 'low',
          timeFrameYears: 1,
        }}
      />,
    )
    expect(drawn).toContain('var(--ink)')
    const painted = paintSvg(drawn, dayPalette)
    expect(painted).not.toContain('var(')
    expect(painted).toContain(dayPalette.ink)
  })
  it('refuses a colour nobody has named', () => {
    expect(() => paintSvg('<path fill="var(--sky)"/>', dayPalette)).toThrow(/sky/)
  })
  it('has a colour for a tree without a rating that no risk has', () => {
    expect(riskToken(null)).toBe('ink-3')
    expect(riskToken('extreme')).toBe('risk-4')
  })
})
