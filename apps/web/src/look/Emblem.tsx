/** A bough, and somebody under it. */
export function Emblem({ width = 30 }: { width?: number }) {
  return (
    <svg width={width} height={(width * 22) / 30} viewBox="0 0 30 22" aria-hidden="true">
      <g fill="none" stroke="var(--ink)" strokeLinecap="round">
        <path d="M2 17C5 6 15 2 28 5" strokeWidth="2.6" />
        <path d="M12 5.6C17 9 20 10.5 25 10.8" strokeWidth="1.5" />
      </g>
      <circle cx="17" cy="17.4" r="2.3" fill="var(--ink)" />
    </svg>
  )
}
