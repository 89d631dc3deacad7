import { useState } from 'react'
import type { Here } from '../api/index.ts'
import { Button, Dialog, Notice } from '../look/index.ts'
import { useKeeping } from './keeping.ts'
import { SignInForm } from './SignIn.tsx'

/** How the office stands to the person here, while it is not simply in reach: no signal, or asked to sign in again. */
export function OfficeLine({ here }: { here: Here }) {
  const { online } = useKeeping()
  const [asking, setAsking] = useState(false)
  if (here.standing === 'signed-out')
    return (
      <div className="house-line">
        <Notice tone="mind">Signed out at the office: sign in to send.</Notice>
        <Button kind="quiet" onPress={() => setAsking(true)}>
          Sign in
        </Button>
        <Dialog title="Sign in to send" isOpen={asking} onClose={() => setAsking(false)}>
          <p>
            What {here.me.name} entered stays on this phone and goes once {here.me.name} signs in. Another
            person may sign in and work here meanwhile.
          </p>
          <SignInForm demo={here.demo} email={here.me.email} onIn={() => setAsking(false)} />
        </Dialog>
      </div>
    )
  if (online && here.standing === 'signed-in') return null
  return (
    <Notice tone="mind" title="No signal.">
      What you keep stays on this phone and goes by itself when there is signal. You can go on.
    </Notice>
  )
}
