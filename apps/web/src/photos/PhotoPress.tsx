import { useRef } from 'react'
import { Button, Notice } from '../look/index.ts'
import type { Taking } from './useTaking.ts'

/** What the office takes; a browser offers its camera or files for it. */
const KINDS = 'image/jpeg,image/png,image/webp,image/avif,image/heic,image/heif'

/** Opens the camera, or the files of the device, several at once. */
export function PhotoPress(props: {
  taking: Taking
  /** For those who listen: `Photo of the opening`. */
  label: string
  from: 'camera' | 'files'
  kind?: 'plain' | 'quiet'
  className?: string
  children: string
}) {
  const { taking, label, from, kind, className, children } = props
  const input = useRef<HTMLInputElement>(null)
  return (
    <>
      <input
        ref={input}
        type="file"
        accept={from === 'camera' ? 'image/*' : KINDS}
        capture={from === 'camera' ? 'environment' : undefined}
        multiple={from === 'files'}
        className="out-of-sight"
        tabIndex={-1}
        aria-label={label}
        onChange={(event) => {
          const files = [...(event.target.files ?? [])]
          event.target.value = ''
          if (files.length > 0) void taking.take(files)
        }}
      />
      <Button kind={kind} className={className} onPress={() => input.current?.click()} aria-label={label}>
        {children}
      </Button>
    </>
  )
}

/** What is being kept, and what came of the last photos: a photo that is not kept says so. */
export function PhotoNews({ taking: { busy, news } }: { taking: Taking }) {
  if (busy > 0)
    return (
      <p className="q" role="status">
        {busy === 1 ? 'Keeping the photo.' : `Keeping ${busy} photos.`}
      </p>
    )
  if (!news) return null
  if (news.tone === 'kept')
    return (
      <p className="out-of-sight" role="status">
        {news.title}
      </p>
    )
  return (
    <Notice tone={news.tone} title={news.title}>
      {news.words}
    </Notice>
  )
}
