import { type ReactNode, useState } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { Disclosure, DisclosurePanel } from 'react-aria-components/Disclosure'
import { onPhone } from '../useWidth.ts'

/** A workbench: open at the desk, put away on the phone until somebody wants it. */
export function Bench({ label, children }: { label: string; children: ReactNode }) {
  const [open, setOpen] = useState(false)
  if (!onPhone()) return children
  return (
    <Disclosure isExpanded={open} onExpandedChange={setOpen}>
      <AriaButton slot="trigger" className="press press-plain">
        {open ? 'Put it away' : label}
      </AriaButton>
      <DisclosurePanel>{children}</DisclosurePanel>
    </Disclosure>
  )
}
