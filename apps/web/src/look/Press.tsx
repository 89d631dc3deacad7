import { Button as AriaButton, type ButtonProps as AriaButtonProps } from 'react-aria-components/Button'
import { Link, type LinkProps } from 'react-router'

/** `do` is the one filled button of a screen; `plain` has an edge; `quiet` is underlined words. */
export type PressKind = 'do' | 'plain' | 'quiet'
const classes = (kind: PressKind, big?: boolean, className?: string) =>
  ['press', `press-${kind}`, big ? 'press-big' : '', className ?? ''].filter(Boolean).join(' ')

export interface ButtonProps extends Omit<AriaButtonProps, 'className'> {
  kind?: PressKind
  /** 56 px high and full width, for the thumb. */
  big?: boolean
  className?: string
}
/** Something one presses. Takes `onPress`, `isDisabled`, `type="submit"` and the rest of react-aria's button. */
export function Button({ kind = 'plain', big, className, ...rest }: ButtonProps) {
  return <AriaButton {...rest} className={classes(kind, big, className)} />
}

/** A link that looks like a button and goes to another place of the program. */
export function LinkButton({
  kind = 'plain',
  big,
  className,
  ...rest
}: LinkProps & { kind?: PressKind; big?: boolean }) {
  return <Link {...rest} className={classes(kind, big, className)} />
}
