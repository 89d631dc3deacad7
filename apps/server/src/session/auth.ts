import { hash, verify } from '@node-rs/argon2'
import { type Database, tables } from '@underbough/db'
import { betterAuth } from 'better-auth'
import { drizzleAdapter } from 'better-auth/adapters/drizzle'

// OWASP's parameters for argon2id: 19 MiB, two passes, one lane.
const argon = { memoryCost: 19_456, timeCost: 2, parallelism: 1 }

/**
 * Sign-in, behind one file. Accounts are made by an officer or the demo, never by the public.
 * `secret` signs the cookies; the caller keeps it out of the code.
 */
export function createAuth(database: Database, secret: string, baseURL: string) {
  const {
    authUser: user,
    authSession: session,
    authAccount: account,
    authVerification: verification,
  } = tables
  return betterAuth({
    secret,
    baseURL,
    telemetry: { enabled: false },
    database: drizzleAdapter(database.db, {
      provider: 'pg',
      schema: { user, session, account, verification },
    }),
    emailAndPassword: {
      enabled: true,
      disableSignUp: true,
      minPasswordLength: 8,
      password: {
        hash: (password) => hash(password, argon),
        verify: ({ hash: stored, password }) => verify(stored, password),
      },
    },
    session: { expiresIn: 60 * 60 * 24 * 7, updateAge: 60 * 60 * 24 },
    advanced: {
      useSecureCookies: false,
      cookies: {
        session_token: {
          name: 'underbough-session',
          attributes: { httpOnly: true, sameSite: 'strict', path: '/', secure: baseURL.startsWith('https:') },
        },
      },
    },
  })
}

export type Auth = ReturnType<typeof createAuth>

/** Stores an account with its password. */
export async function addAccount(
  database: Database,
  person: { id: string; name: string; email: string; password: string },
) {
  await database.transaction(async (tx) => {
    const { id, name, email } = person
    await tx.insert(tables.authUser).values({ id, name, email, emailVerified: true }).onConflictDoNothing()
    await tx
      .insert(tables.authAccount)
      .values({
        id: `password-${id}`,
        accountId: id,
        providerId: 'credential',
        userId: id,
        password: await hash(person.password, argon),
      })
      .onConflictDoNothing()
  })
}
