import { type ReactNode, useId } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { Dialog as AriaDialog, Heading } from 'react-aria-components/Dialog'
import { Disclosure, DisclosurePanel } from 'react-aria-components/Disclosure'
import { Modal, ModalOverlay } from 'react-aria-components/Modal'

/** A drawing or a table under a firm rule, with its number, its heading and a word at the right. */
export function Plate(props: {
  title: ReactNode
  no?: number | string
  aside?: ReactNode
  caption?: ReactNode
  className?: string
  children: ReactNode
}) {
  const id = useId()
  return (
    <section className={`plate ${props.className ?? ''}`} aria-labelledby={id}>
      <div className="plate-head">
        {props.no === undefined ? null : <span className="plate-no">{props.no}</span>}
        <h2 id={id}>{props.title}</h2>
        {props.aside ? <span className="plate-aside">{props.aside}</span> : null}
      </div>
      {props.children}
      {props.caption ? <p className="caption">{props.caption}</p> : null}
    </section>
  )
}

/** The page beside the map: 364 px wide, 300 on a narrow desk, a sheet from the foot below 900 px. */
export function Leaf({
  label,
  children,
  onClose,
}: {
  label: string
  children: ReactNode
  onClose?: () => void
}) {
  return (
    <aside className="leaf" aria-label={label}>
      {onClose ? (
        <AriaButton className="leaf-grip" aria-label="Put the leaf away" onPress={onClose}>
          <span />
        </AriaButton>
      ) : null}
      {children}
    </aside>
  )
}

export interface DialogProps {
  title: string
  isOpen: boolean
  onClose(): void
  children: ReactNode
  /** Buttons at the foot, the filled one first. */
  actions?: ReactNode
  className?: string
  /** False where a press outside would lose what is being made; Escape still puts it away. */
  isDismissable?: boolean
}
/** A leaf laid over the page. Escape and a press outside put it away. */
export function Dialog(props: DialogProps) {
  const { title, isOpen, onClose, children, actions, className = '', isDismissable = true } = props
  return (
    <ModalOverlay
      className="veil"
      isOpen={isOpen}
      isDismissable={isDismissable}
      onOpenChange={(open) => open || onClose()}
    >
      <Modal className={`dialog ${className}`}>
        <AriaDialog>
          <Heading slot="title" className="dialog-title">
            {title}
          </Heading>
          <div className="dialog-body">{children}</div>
          {actions ? <div className="dialog-actions">{actions}</div> : null}
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  )
}

/** A computed figure opens its reasons. */
export function Reasons({ children, label = 'Reasons' }: { children: ReactNode; label?: string }) {
  return (
    <Disclosure className="reasons">
      <AriaButton slot="trigger" className="reasons-button">
        {label}
      </AriaButton>
      <DisclosurePanel className="reasons-panel">{children}</DisclosurePanel>
    </Disclosure>
  )
}

/** Labels at the left, figures with their unit at the right. */
export function Facts({ rows }: { rows: readonly (readonly [string, ReactNode])[] }) {
  return (
    <dl className="facts">
      {rows.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  )
}
