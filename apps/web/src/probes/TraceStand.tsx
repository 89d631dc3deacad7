import { Button, Notice } from '../look/index.ts'

/** A person stands by a trace's borders, or leaves them as proposed: one of the two is asked, neither is taken for granted. */
export function TraceStand(props: {
  stand: 'accepted' | 'proposed' | null
  hasBark: boolean
  moved: boolean
  onStand(stand: 'accepted' | 'proposed'): void
  refusal: string | null
}) {
  const { stand, hasBark, moved, onStand, refusal } = props
  return (
    <div className="trace-stand">
      {hasBark ? null : (
        <p className="s q">Say above where the bark ends; then these borders can be taken.</p>
      )}
      <div className="row wrap">
        <Button isDisabled={!hasBark || stand === 'accepted'} onPress={() => onStand('accepted')}>
          Take these borders
        </Button>
        <Button kind="quiet" isDisabled={stand === 'proposed'} onPress={() => onStand('proposed')}>
          Leave them as proposed
        </Button>
      </div>
      {refusal ? (
        <p className="field-refusal" data-refused tabIndex={-1}>
          {refusal}
        </p>
      ) : null}
      {stand === 'accepted' ? (
        <Notice tone="kept" title="You stand by these borders.">
          {moved
            ? 'What the program proposed is kept beside them.'
            : 'They are the program’s, taken as they were.'}
        </Notice>
      ) : stand === 'proposed' ? (
        <Notice tone="mind" title="Nobody stands by these borders yet.">
          The trace is kept and counts for no section until somebody takes its borders
          {moved ? '; what you moved stays on this device.' : '.'}
        </Notice>
      ) : null}
    </div>
  )
}
