import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react'
import { Button, Notice, Words } from '../look/index.ts'
import { keepCopy, NotKept, type PhotoAbout } from './keep.ts'
import { drawMarks, type Mark, type MarkTool, markInk, type Place, pathOf, penPx, within } from './marks.ts'
import type { ShownPhoto } from './shown.ts'

const tools = [
  { value: 'arrow', label: 'Arrow' },
  { value: 'ring', label: 'Ring' },
] as const
/** A finger that moved less than this share of the picture tapped: the next tap ends the mark. */
const TAP_SHARE = 0.02
const STEP_SHARE = 0.02

/** Draws arrows and rings on a copy of a photo; the original stays as it was taken. */
export function MarkPhoto(props: { shown: ShownPhoto; about: PhotoAbout; onDone(): void }) {
  const { shown, about, onDone } = props
  const picture = usePictureOf(shown)
  const [marks, setMarks] = useState<readonly Mark[]>([])
  const [tool, setTool] = useState<MarkTool>('arrow')
  const [fault, setFault] = useState<string | null>(null)
  const [busy, setBusy] = useState(false)
  const keep = async () => {
    if (!picture.blob) return
    setBusy(true)
    setFault(null)
    try {
      const original = { ...shown.photo, id: shown.photo.copyOf ?? shown.photo.id }
      const isKept = await keepCopy(original, picture.blob, 'marked', about, drawMarks(marks))
      if (isKept) return onDone()
      setFault('This browser could not draw the copy. The marks still stand here.')
    } catch (error) {
      setFault(
        error instanceof NotKept ? error.message : 'The copy was not kept. The marks still stand here.',
      )
    } finally {
      setBusy(false)
    }
  }
  if (picture.failed)
    return (
      <>
        <Notice tone="refused" title="The picture cannot be drawn here.">
          It is not on this phone, or of a kind that this browser cannot draw. The original is kept.
        </Notice>
        <Button onPress={onDone}>Put back</Button>
      </>
    )
  return (
    <div className="mark-photo">
      <div className="row c wrap mark-tools">
        <Words<MarkTool> label="What to draw" value={tool} options={tools} onChange={setTool} />
        <Button kind="quiet" isDisabled={marks.length === 0} onPress={() => setMarks(marks.slice(0, -1))}>
          Take the last one back
        </Button>
      </div>
      {picture.url ? (
        <Stage url={picture.url} tool={tool} marks={marks} onMark={(mark) => setMarks([...marks, mark])} />
      ) : null}
      <p className="q" id="mark-how">
        Draw with a finger, or tap where it begins and where it ends. With keys: arrows move the cross, Enter
        sets either end.
      </p>
      {fault ? (
        <Notice tone="refused" title="Not kept.">
          {fault}
        </Notice>
      ) : null}
      <div className="dialog-actions">
        <Button kind="do" isDisabled={marks.length === 0 || busy} onPress={() => void keep()}>
          Keep the marked copy
        </Button>
        <Button onPress={onDone}>Put back</Button>
      </div>
    </div>
  )
}

/** The picture to draw on, from this device or from the office. */
function usePictureOf({ here, photo }: ShownPhoto) {
  const [blob, setBlob] = useState<Blob | null>(null)
  const [url, setUrl] = useState<string | null>(null)
  const [failed, setFailed] = useState(false)
  useEffect(() => {
    let live = true
    let made: string | null = null
    const fetched = async () => {
      const answer = await fetch(`/api/photos/${photo.id}?copy=screen`, { credentials: 'same-origin' })
      if (!answer.ok) throw new Error('no picture')
      return answer.blob()
    }
    void (async () => {
      try {
        const found = here ?? (await fetched())
        // What the browser cannot draw it cannot copy either.
        const drawn = await createImageBitmap(found)
        drawn.close()
        if (!live) return
        made = URL.createObjectURL(found)
        setBlob(found)
        setUrl(made)
      } catch {
        if (live) setFailed(true)
      }
    })()
    return () => {
      live = false
      if (made) URL.revokeObjectURL(made)
    }
  }, [here, photo.id])
  return { blob, url, failed }
}

const sayPlace = ([x, y]: Place) => `${Math.round(x * 100)} % from the left, ${Math.round(y * 100)} % down`

interface StageProps {
  url: string
  tool: MarkTool
  marks: readonly Mark[]
  onMark(mark: Mark): void
}
/** The picture with the marks over it; takes fingers, taps and keys. Long because the three share one begun mark. */
function Stage({ url, tool, marks, onMark }: StageProps) {
  const [size, setSize] = useState({ width: 4, height: 3 })
  const [from, setFrom] = useState<Place | null>(null)
  const [to, setTo] = useState<Place>([0.5, 0.5])
  const [keys, setKeys] = useState(false)
  const down = useRef<Place | null>(null)
  const at = (event: PointerEvent<HTMLElement>): Place => {
    const box = event.currentTarget.getBoundingClientRect()
    return within([(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height])
  }
  const end = (place: Place) => {
    if (from) onMark({ tool, from, to: place })
    setFrom(null)
  }
  const onPointerUp = (event: PointerEvent<HTMLElement>) => {
    const place = at(event)
    const begun = down.current
    down.current = null
    if (!begun) return
    const moved = Math.hypot(place[0] - begun[0], place[1] - begun[1]) > TAP_SHARE
    if (moved || from !== begun) end(place)
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const move = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key]
    if (move) {
      const step = event.shiftKey ? STEP_SHARE * 5 : STEP_SHARE
      setTo(within([to[0] + move[0]! * step, to[1] + move[1]! * step]))
    } else if (event.key === 'Enter' || event.key === ' ') {
      if (from) end(to)
      else setFrom(to)
    } else if (event.key === 'Escape' && from) setFrom(null)
    else return
    setKeys(true)
    event.preventDefault()
    event.stopPropagation()
  }
  const { width, height } = size
  const thick = penPx(width, height)
  const begun: Mark[] = from ? [{ tool, from, to }] : []
  return (
    <div
      className="mark-stage"
      role="application"
      aria-label="The picture to draw on"
      aria-describedby="mark-how"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys draw here
      tabIndex={0}
      onKeyDown={onKeyDown}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId)
        setKeys(false)
        const place = at(event)
        down.current = place
        setTo(place)
        if (!from) setFrom(place)
      }}
      onPointerMove={(event) => down.current && setTo(at(event))}
      onPointerUp={onPointerUp}
      onPointerCancel={() => {
        down.current = null
        setFrom(null)
      }}
    >
      <img
        src={url}
        alt=""
        draggable={false}
        onLoad={({ currentTarget: { naturalWidth, naturalHeight } }) =>
          setSize({ width: naturalWidth, height: naturalHeight })
        }
      />
      <svg viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
        {[...marks, ...begun].map((mark, i) => (
          <g key={i} fill="none" strokeLinecap="round" strokeLinejoin="round">
            <path d={pathOf(mark, width, height)} stroke={markInk.casing} strokeWidth={thick * 2} />
            <path d={pathOf(mark, width, height)} stroke={markInk.line} strokeWidth={thick} />
          </g>
        ))}
        {keys ? <Cross at={to} width={width} height={height} thick={thick} /> : null}
      </svg>
      <p className="out-of-sight" role="status">
        {keys ? `${from ? 'Ends' : 'Begins'} at ${sayPlace(to)}.` : ''}{' '}
        {marks.length > 0 ? `${marks.length} drawn.` : ''}
      </p>
    </div>
  )
}

function Cross({ at, width, height, thick }: { at: Place; width: number; height: number; thick: number }) {
  const [x, y] = [at[0] * width, at[1] * height]
  const arm = 0.05 * Math.min(width, height)
  const d = `M${x - arm} ${y} H${x + arm} M${x} ${y - arm} V${y + arm}`
  return (
    <g fill="none">
      <path d={d} stroke={markInk.casing} strokeWidth={thick * 1.4} />
      <path d={d} stroke={markInk.line} strokeWidth={thick * 0.6} />
    </g>
  )
}
