import type { Feature } from 'geojson'
import {
  createContext,
  type ReactNode,
  type Ref,
  useContext,
  useEffect,
  useImperativeHandle,
  useMemo,
  useRef,
  useState,
} from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { Furniture, neatLinePx } from './Furniture.tsx'
import type { MapEvents, MapPicture, MapPort, MapPortMaker, MapTool, ViewState } from './port.ts'
import { type Bounds, type Squares, squaresOver } from './squares.ts'
import './map.css'

// The engine weighs more than everything else a page needs: it comes once a map is drawn, after the page can be used.
const PortContext = createContext<MapPortMaker>(() =>
  import('./maplibre.ts').then(({ MapLibrePort }) => new MapLibrePort()),
)
/** Puts another map under a page, for tests: `<MapProvider make={() => new FakeMap()}>`. */
export function MapProvider({ make, children }: { make: MapPortMaker; children: ReactNode }) {
  return <PortContext value={make}>{children}</PortContext>
}

export interface GroundMapProps {
  /** What the map says to those who listen: what it shows and where the same figures are in words. */
  label: string
  /** The whole ground: where the squares lie. */
  ground: Bounds
  /** Where to look first; the ground when absent. */
  start?: Bounds
  picture: MapPicture
  tool?: MapTool
  /** What `edit-zone` or `carry-zone` starts from. */
  held?: Feature
  /** No neat line and no letters: for maps that fill a phone. */
  compact?: boolean
  onPickTree?: MapEvents['pickTree']
  onPickZone?: MapEvents['pickZone']
  onPickArea?: MapEvents['pickArea']
  onPickNothing?: MapEvents['pickNothing']
  onOver?: MapEvents['over']
  onDrawn?: MapEvents['drawn']
  onRefused?: MapEvents['refused']
  onMeasured?: MapEvents['measured']
  onView?(view: ViewState, port: MapPort): void
  onIdle?(port: MapPort): void
  /** The port itself, to go somewhere or to finish a drawing. */
  ref?: Ref<MapPort | null>
}

/** The map in its atlas frame. It fills its parent, which must have a height. */
export function GroundMap(props: GroundMapProps) {
  const { ground, picture, tool = 'move', held, compact, ref } = props
  const make = useContext(PortContext)
  const box = useRef<HTMLDivElement>(null)
  const place = useRef<HTMLDivElement>(null)
  const port = useRef<MapPort | null>(null)
  const latest = useRef(props)
  latest.current = props
  const [ready, setReady] = useState(false)
  const [failed, setFailed] = useState(false)
  const [view, setView] = useState<ViewState | null>(null)
  const size = useSize(box)
  const squares: Squares = useMemo(() => squaresOver(ground), [ground])
  useImperativeHandle<MapPort | null, MapPort | null>(ref, () => (ready ? port.current : null), [ready])

  useEffect(() => {
    let open = true
    let made: MapPort | null = null
    const now = () => latest.current
    const tellsOf = (engine: MapPort): MapEvents => ({
      view: (state) => {
        setView(state)
        now().onView?.(state, engine)
      },
      pickTree: (tree) => now().onPickTree?.(tree),
      pickZone: (zone) => now().onPickZone?.(zone),
      pickArea: (label) => now().onPickArea?.(label),
      pickNothing: () => now().onPickNothing?.(),
      over: (what) => now().onOver?.(what),
      drawn: (t, geometry) => now().onDrawn?.(t, geometry),
      refused: (t, sentence) => now().onRefused?.(t, sentence),
      measured: (metres) => now().onMeasured?.(metres),
      idle: () => now().onIdle?.(engine),
    })
    const begin = async () => {
      const engine = await make()
      if (!open) return
      made = engine
      const start = { bounds: now().start ?? now().ground, paddingPx: 8 }
      await engine.open(place.current!, start, now().picture, tellsOf(engine))
      if (!open) return
      port.current = engine
      setReady(true)
    }
    begin().catch(() => open && setFailed(true))
    return () => {
      open = false
      port.current = null
      setReady(false)
      made?.close()
    }
  }, [make])

  useEffect(() => {
    if (ready) port.current?.show(picture)
  }, [ready, picture])
  useEffect(() => {
    if (ready) port.current?.take(tool, held)
  }, [ready, tool, held])

  const margin = compact ? 0 : neatLinePx
  return (
    <section className="ground-map" ref={box} aria-label={props.label}>
      <div className="map-place" ref={place} style={{ inset: margin }} />
      {view && size ? (
        <Furniture width={size.width} height={size.height} view={view} squares={squares} compact={compact} />
      ) : null}
      {ready ? (
        <fieldset
          className="map-presses"
          aria-label="Nearer and farther"
          style={{ top: margin + 8, right: margin + 8 }}
        >
          <Button aria-label="Nearer" onPress={() => port.current?.zoomBy(1)}>
            <path d="M4 9H14M9 4V14" />
          </Button>
          <Button aria-label="Farther" onPress={() => port.current?.zoomBy(-1)}>
            <path d="M4 9H14" />
          </Button>
          <Button aria-label="The whole ground" onPress={() => port.current?.fit(ground, 8)}>
            <path d="M4 7V4H7M11 4H14V7M14 11V14H11M7 14H4V11" />
          </Button>
        </fieldset>
      ) : null}
      {failed ? (
        <p className="map-failed">
          <b>The map cannot be drawn here.</b> This browser gives no access to WebGL2. Lists and records work
          as before.
        </p>
      ) : null}
    </section>
  )
}

function Button({ children, ...rest }: { 'aria-label': string; onPress(): void; children: ReactNode }) {
  return (
    <AriaButton {...rest} className="map-press">
      <svg width="18" height="18" viewBox="0 0 18 18" aria-hidden="true">
        {children}
      </svg>
    </AriaButton>
  )
}

function useSize(box: { current: HTMLElement | null }) {
  const [size, setSize] = useState<{ width: number; height: number } | null>(null)
  useEffect(() => {
    const element = box.current
    if (!element) return
    const watch = new ResizeObserver(() =>
      setSize({ width: element.clientWidth, height: element.clientHeight }),
    )
    watch.observe(element)
    return () => watch.disconnect()
  }, [box])
  return size
}
