import { useEffect, useState } from 'react'

/** False at first, true once the page stands: what takes long to work out does not keep the rest from showing. */
export function useLater(): boolean {
  const [later, setLater] = useState(false)
  useEffect(() => {
    const timer = setTimeout(() => setLater(true), 0)
    return () => clearTimeout(timer)
  }, [])
  return later
}
