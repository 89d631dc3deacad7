import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { type DayFacts, DayLine, describeDay, minutePlace, usualHours } from './day-line.tsx'
import { describeRoute, type RouteStop } from './route.ts'
import { RouteStrip, routeWayPx } from './route-strip.tsx'

const day: DayFacts = {
  letter: 'B',
  stops: [
    { id: 'a', startMinute: 540, leaveMinute: 600, risk: 'high', overdue: true },
    { id: 'b', startMinute: 720, leaveMinute: 740, risk: 'low', overdue: false },
  ],
  startMinute: 480,
  endMinute: 800,
  travelM: 5400,
  closed: [{ fromMinute: 500, toMinute: 530 }],
}

describe('day line', () => {
  it('stands each mark at the middle of its visit', () => {
    const html = renderToStaticMarkup(<DayLine day={day} />)
    const marks = [...html.matchAll(/translate\(([\d.]+) [\d.]+\) scale\(0.6\)/g)].map((m) => Number(m[1]))
    expect(marks[0]).toBeCloseTo(minutePlace(570, usualHours, 154), 1)
    expect(marks[1]).toBeCloseTo(minutePlace(730, usualHours, 154), 1)
    // Two hours between ticks: a mark half-way between 8 and 10 stands half-way between their lines.
    expect(minutePlace(540, usualHours, 154)).toBeCloseTo(
      (minutePlace(480, usualHours, 154) + minutePlace(600, usualHours, 154)) / 2,
      6,
    )
  })
  it('says the day, and why there is none', () => {
    expect(describeDay(day)).toBe('Crew B: 2 stops, 5.4 km, 8:00 to 13:20; 1 high; 1 overdue.')
    expect(
      renderToStaticMarkup(
        <DayLine day={{ ...day, absent: { why: 'Leave: R. Vane', more: '9 stops wait below' } }} />,
      ),
    ).toContain('Leave: R. Vane')
  })
})

const stop = (tag: string, state: RouteStop['state'], wayM: number): RouteStop => ({
  id: tag,
  tag,
  name: 'Beech',
  says: 'Basic, overdue',
  minute: 545,
  risk: 'high',
  overdue: true,
  state,
  wayM,
  beside: [{ side: 'left', kind: 'seating' }],
})
const stops = [stop('0398', 'done', 0), stop('0417', 'now', 240), stop('0421', 'to-come', 1220)]

describe('route strip', () => {
  const html = renderToStaticMarkup(<RouteStrip letter="B" stops={stops} after="6 more, back by 15:36" />)
  it('strings the stops on the way in order, with the distances between', () => {
    const marks = [...html.matchAll(/translate\(([\d.]+) ([\d.]+)\) scale\(1.12\)/g)].map((m) => [
      Number(m[1]),
      Number(m[2]),
    ])
    expect(marks.map((m) => m[0])).toEqual([routeWayPx, routeWayPx, routeWayPx])
    expect(marks.map((m) => m[1])).toEqual(marks.map((m) => m[1]).sort((a, b) => a! - b!))
    expect(html).toContain('>240 m<')
    expect(html).toContain('>1.2 km<')
  })
  it('sets no word below 16 px', () => {
    const sizes = [...html.matchAll(/font-size="([\d.]+)"/g)].map((m) => Number(m[1]))
    expect(sizes.length).toBeGreaterThan(8)
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(16)
  })
  it('makes each stop a button where it may be pressed, at least 48 px high', () => {
    const pressed = renderToStaticMarkup(<RouteStrip letter="B" stops={stops} press={() => ({})} />)
    expect([...pressed.matchAll(/role="button"/g)]).toHaveLength(3)
    expect(pressed).toMatch(/height="56" fill="transparent"/)
  })
  it('says the day stop by stop', () => {
    expect(describeRoute({ letter: 'B', stops })).toContain(
      '240 m on: 0417 Beech, Basic, overdue, 9:05, next',
    )
  })
})
