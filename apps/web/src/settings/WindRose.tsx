const names = [
  'north',
  'north-north-east',
  'north-east',
  'east-north-east',
  'east',
  'east-south-east',
  'south-east',
  'south-south-east',
  'south',
  'south-south-west',
  'south-west',
  'west-south-west',
  'west',
  'west-north-west',
  'north-west',
  'north-north-west',
]

/** The direction most strong gusts come from, with its share. */
export function windSays(rose: readonly number[]): string {
  const most = rose.reduce((best, share, i) => (share > rose[best]! ? i : best), 0)
  return `${names[most]}, ${Math.round(rose[most]! * 100)} %`
}

/** Where strong gusts come from: sixteen rays, north up, their length by share. */
export function WindRose({ rose, sizePx = 44 }: { rose: readonly number[]; sizePx?: number }) {
  const most = Math.max(...rose)
  const ray = (share: number, i: number) => {
    const angle = (i * Math.PI) / 8
    const length = (share / most) * 20
    return `M0 0L${(Math.sin(angle) * length).toFixed(1)} ${(-Math.cos(angle) * length).toFixed(1)}`
  }
  return (
    <svg viewBox="-22 -22 44 44" width={sizePx} height={sizePx} aria-hidden="true">
      <circle r={20.5} fill="none" stroke="var(--rule)" />
      <path d={rose.map(ray).join('')} stroke="var(--ink)" strokeWidth={2.2} fill="none" />
    </svg>
  )
}
