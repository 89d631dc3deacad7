import { Link } from 'react-router'
import { count } from '../look/index.ts'
import { useOpenVersions } from './hooks.ts'
import './versions.css'

/** Says on the pages of the office that two versions of a record wait for a choice; nothing while none does. */
export function VersionsLine() {
  const versions = useOpenVersions()
  const open = versions.data?.length ?? 0
  if (open === 0) return null
  return (
    <p className="versions-line" role="status">
      {open === 1 ? 'One tree has' : `${count(open, 'tree')} have`} two versions: both are kept.{' '}
      <Link to="/versions">Choose which stands</Link>
    </p>
  )
}
