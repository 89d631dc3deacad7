import { useRouteError } from 'react-router'
import { Button, LinkButton, Notice } from '../look/index.ts'

/** A page that could not be drawn: what happened, what was kept, what to do. The places stay within reach. */
export function BrokenPage() {
  const error = useRouteError()
  const words = error instanceof Error ? error.message : 'Nothing more is known.'
  return (
    <div className="page">
      <Notice tone="refused" title="This page could not be drawn.">
        What was kept before is kept. The program says: {words}
      </Notice>
      <div className="row c error-actions">
        <Button kind="do" onPress={() => location.reload()}>
          Draw it again
        </Button>
        <LinkButton to="/">To the first page</LinkButton>
      </div>
    </div>
  )
}
