import { useSearchParams } from 'react-router'
import { Empty, Words } from '../look/index.ts'
import { mayChange, usePerson } from '../shell/index.ts'
import { AssumptionsPart } from './AssumptionsPart.tsx'
import { CrewsPart } from './CrewsPart.tsx'
import { EstimatePart } from './EstimatePart.tsx'
import { PolicyPart } from './PolicyPart.tsx'
import { SitesPart } from './SitesPart.tsx'
import { WindPart } from './WindPart.tsx'
import './settings.css'

const parts = [
  { value: 'policy', label: 'Policy' },
  { value: 'crews', label: 'Crews' },
  { value: 'sites', label: 'Sites' },
  { value: 'wind', label: 'Wind' },
  { value: 'estimate', label: 'Estimate' },
  { value: 'assumptions', label: 'Assumptions' },
] as const
type Part = (typeof parts)[number]['value']

/** What the organisation decides for itself: when to look again, who looks, where, and on which figures of ours it rests. */
export default function SettingsPage() {
  const me = usePerson()
  const [words, setWords] = useSearchParams()
  const part = parts.find((p) => p.value === words.get('part'))?.value ?? 'policy'
  if (!mayChange(me.role))
    return (
      <div className="page">
        <h1>Settings</h1>
        <Empty title="Settings are kept by the office.">Ask an officer of {me.organisation.name}.</Empty>
      </div>
    )
  return (
    <div className="page settings-page">
      <h1>Settings</h1>
      <Words<Part>
        label="Part"
        value={part}
        options={parts}
        onChange={(chosen) => setWords({ part: chosen })}
      />
      {part === 'policy' ? <PolicyPart /> : null}
      {part === 'crews' ? <CrewsPart /> : null}
      {part === 'sites' ? <SitesPart /> : null}
      {part === 'wind' ? <WindPart /> : null}
      {part === 'estimate' ? <EstimatePart /> : null}
      {part === 'assumptions' ? <AssumptionsPart /> : null}
    </div>
  )
}
