import type { ReactNode } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { Disclosure, DisclosurePanel } from 'react-aria-components/Disclosure'
import { onPhone } from '../useWidth.ts'

/** A workbench: open at the desk, put away on the phone until somebody wants it. */
export function Bench({ label, children, closed }: { label: string; children: ReactNode; closed?: boolean }) {
  return (
    <Disclosure className="wood-bench-fold" defaultExpanded={!(closed ?? onPhone())}>
      <AriaButton slot="trigger" className="press press-plain wood-bench-button">
        {label}
      </AriaButton>
      <DisclosurePanel>{children}</DisclosurePanel>
    </Disclosure>
  )
}
