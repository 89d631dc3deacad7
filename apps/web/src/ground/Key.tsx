import { CrewLineSample, TreeMark } from '@underbough/pictures'

/** The map's key, as one line below it. */
export function Key({ crews }: { crews: readonly string[] }) {
  const box = { boxPx: 28, hidden: true } as const
  return (
    <ul className="key" aria-label="Key to the map">
      <li>
        <TreeMark risk="low" {...box} /> low
      </li>
      <li>
        <TreeMark risk="moderate" {...box} /> moderate
      </li>
      <li>
        <TreeMark risk="high" {...box} /> high
      </li>
      <li>
        <TreeMark risk="extreme" {...box} /> extreme
      </li>
      <li>
        <TreeMark risk="high" overdue {...box} /> saw-cut: overdue
      </li>
      <li>
        <TreeMark risk="moderate" visited={false} {...box} /> no pith: never visited
      </li>
      <li>
        <TreeMark risk={null} status="gone" {...box} /> gone
      </li>
      {crews.map((letter) => (
        <li key={letter}>
          <CrewLineSample letter={letter} hidden /> crew {letter}
        </li>
      ))}
    </ul>
  )
}
