import type { ReactNode } from 'react'

/** A table that may be wider than its place: scrolled sideways by finger, wheel or arrow keys. */
export function Scrolled({ label, children }: { label: string; children: ReactNode }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable without a mouse (WCAG 2.1.1)
    <section className="tree-table" aria-label={label} tabIndex={0}>
      {children}
    </section>
  )
}
