import { useState } from 'react'
import { type DemoAccount, refusalsOf, useSignIn } from '../api/index.ts'
import { Button, Emblem, Field, Notice } from '../look/index.ts'

const roleWords: Record<string, string> = {
  officer: 'officer, at the desk',
  inspector: 'inspector, under the tree',
  manager: 'manager',
  client: 'owner, reads only',
}

/** Name and password, and in a demo its invented people. `email` is who was here before. */
export function SignInForm({
  demo,
  email: before = '',
  onIn,
}: {
  demo: readonly DemoAccount[]
  email?: string
  onIn?: () => void
}) {
  const [email, setEmail] = useState(before)
  const [password, setPassword] = useState('')
  const signIn = useSignIn()
  const refusals = refusalsOf(signIn.error)
  const enter = (who: { email: string; password: string }) => signIn.mutate(who, { onSuccess: onIn })
  return (
    <div className="door-way">
      <form
        onSubmit={(event) => {
          event.preventDefault()
          enter({ email, password })
        }}
      >
        <Field
          label="E-mail address"
          type="email"
          autoComplete="username"
          value={email}
          onChange={setEmail}
          isRequired
        />
        <Field
          label="Password"
          type="password"
          autoComplete="current-password"
          value={password}
          onChange={setPassword}
          isRequired
        />
        {refusals.length > 0 ? (
          <Notice tone="refused">{refusals.map((r) => r.message).join(' ')}</Notice>
        ) : null}
        <Button kind="do" type="submit" isDisabled={signIn.isPending}>
          Sign in
        </Button>
      </form>
      {demo.length > 0 ? (
        <section className="door-demo" aria-label="People of the demo">
          <h2>A made-up island to try it on</h2>
          <p className="s q">
            Port Maud and everybody in it are invented. Enter as one of them; what you change stays in the
            demo.
          </p>
          <ul>
            {demo.map((who) => (
              <li key={who.email}>
                <Button
                  isDisabled={signIn.isPending}
                  onPress={() => enter({ email: who.email, password: who.password })}
                >
                  <span className="b">{who.name}</span>
                  <span className="q">{roleWords[who.role] ?? who.role}</span>
                </Button>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
    </div>
  )
}

/** The door. A demo offers its invented people; elsewhere accounts are made by an officer. */
export function SignIn({ demo }: { demo: readonly DemoAccount[] }) {
  return (
    <main className="door">
      <div className="door-name">
        <Emblem width={44} />
        <h1>Underbough</h1>
      </div>
      <p className="door-words q">Who stands under which tree, and when must we look again.</p>
      <SignInForm demo={demo} />
    </main>
  )
}
