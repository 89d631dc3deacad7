import { createContext, useContext } from 'react'
import type { Me } from '../api/index.ts'

const PersonContext = createContext<Me | null>(null)
export const PersonProvider = PersonContext.Provider

/** The signed-in person. Only below the shell, where there always is one. */
export function usePerson(): Me {
  const me = useContext(PersonContext)
  if (!me) throw new Error('usePerson stands outside the shell')
  return me
}
