import { standingSentence } from '../look/index.ts'

/** The usual cautions at a tree that came down. */
export function Cautions() {
  return (
    <p className="standing">
      Keep people away from it. What lies may be under tension or roll, and what still hangs may fall. Treat
      every line near it as live and call its owner. {standingSentence}
    </p>
  )
}
