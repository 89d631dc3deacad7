import { useEffect } from 'react'
import { useLocation } from 'react-router'
import { Button, Notice } from '../look/index.ts'
import { isInHand } from './inHand.ts'
import { takeNewVersion, useVersion, wentTo } from './version.ts'

/** A new version is on this device. Says nothing while something is in hand. */
export function VersionLine() {
  const version = useVersion()
  const { pathname } = useLocation()
  useEffect(() => wentTo(pathname), [pathname])
  if (version === 'newest' || isInHand(pathname)) return null
  if (version === 'busy')
    return (
      <Notice tone="mind">
        A visit is open in another window. The new version is taken when it is closed.
      </Notice>
    )
  return (
    <div className="house-line">
      <Notice tone="mind">A new version is ready.</Notice>
      <Button kind="quiet" onPress={takeNewVersion}>
        Take it
      </Button>
    </div>
  )
}
