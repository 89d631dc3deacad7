import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { type DayFacts, DayLine, describeDay, minutePlace, usualHours } from './day-line.tsx'

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
