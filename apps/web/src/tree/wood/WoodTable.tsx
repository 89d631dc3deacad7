import type { PlacedReading } from '@underbough/wood'
import { Scrolled } from '../Scrolled.tsx'
import { readingRows } from './facts.ts'

/** Wall, its share of the radius, and how much of the way to the middle was read, reading by reading. */
export function WoodTable({ readings, label }: { readings: readonly PlacedReading[]; label: string }) {
  return (
    <Scrolled label={label}>
      <table>
        <thead>
          <tr>
            <th>Reading</th>
            <th className="n">Bearing</th>
            <th className="n">Firm wall</th>
            <th className="n">Wall over radius, t/R</th>
            <th className="n">Read</th>
            <th className="n">Unread</th>
          </tr>
        </thead>
        <tbody>
          {readingRows(readings).map((row) => (
            <tr key={row.key}>
              <td className="b">{row.label}</td>
              <td className="n">{row.bearing}</td>
              <td className="n">{row.wall}</td>
              <td className="n">{row.tOverR}</td>
              <td className="n">{row.read}</td>
              <td className="n">{row.unread}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolled>
  )
}
