import { useQuery } from '@tanstack/react-query'
import { refusalsOf, useSignOut, waitingOf } from '../api/index.ts'
import { Button, count, Dialog, Notice, Refusals } from '../look/index.ts'
import { useKeeping } from './keeping.ts'
import { usePerson } from './person.ts'

/** Says what signing out leaves on this device and what it clears, before it is done. */
export function SignOutDialog({ onClose, onOut }: { onClose(): void; onOut(): void }) {
  const me = usePerson()
  const { online } = useKeeping()
  const waiting = useQuery({
    queryKey: ['waiting', me.personId],
    queryFn: () => waitingOf(me.personId),
    staleTime: 0,
  })
  const out = useSignOut()
  return (
    <Dialog
      title={`Sign out, ${me.name}`}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={waiting.isPending || out.isPending}
            onPress={() => out.mutate(me.personId, { onSuccess: onOut })}
          >
            Sign out
          </Button>
          <Button onPress={onClose}>Stay</Button>
        </>
      }
    >
      {waiting.data ? (
        <Notice tone="mind" title={`${count(waiting.data, 'entry', 'entries')} not at the office yet.`}>
          They stay on this phone under your name, and go when you sign in here again. Nobody else can send
          them.
        </Notice>
      ) : null}
      <p>Days, maps and photos that were fetched for you are cleared from this phone.</p>
      {online ? null : (
        <p>There is no signal now: you can sign in here again only when the office can be reached.</p>
      )}
      <Refusals
        title="You are still signed in."
        refusals={refusalsOf(out.error)}
        kept="Nothing was cleared."
      />
    </Dialog>
  )
}
