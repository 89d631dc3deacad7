import type { Section, SectionAt, ShellRule } from '@underbough/wood'
import { Plate } from '../../look/index.ts'
import { sayMetres } from '../facts.ts'
import { Scrolled } from '../Scrolled.tsx'
import { onPhone } from '../useWidth.ts'
import { outsideAll, type RuleRow, type RulesAt, ruleRows, rulesAt } from './rules.ts'

/** Published shell rules beside one another. They disagree by design: there is no verdict and no colour. */
export function RulesPlate(props: { no: number; at: SectionAt; section: Section; conifer: boolean | null }) {
  const { no, at, section, conifer } = props
  const found = rulesAt(section, conifer)
  const rows = found && ruleRows(found)
  if (!found || !rows) return null
  const { thinnest, mean } = found
  return (
    <Plate
      no={no}
      title="Published shell rules, side by side"
      aside={`at ${sayMetres(at.heightM)}`}
      className="wood-rules"
    >
      <p className="s q prose">
        Thinnest wall found: {thinnest.wallCm.toFixed(1)} cm of {thinnest.radiusCm.toFixed(1)} cm radius, at{' '}
        {thinnest.at}.
        {mean ? ` Mean of the walls found: ${mean.wallCm.toFixed(1)} of ${mean.radiusCm.toFixed(1)} cm.` : ''}
      </p>
      {rows.ok && outsideAll(rows.value).length > 0 ? (
        <p className="wood-left s">
          Outside of what all of them were made for: {outsideAll(rows.value).join(' ')}
        </p>
      ) : null}
      {rows.ok ? (
        onPhone() ? (
          <RuleList rows={rows.value} />
        ) : (
          <RuleTable rows={rows.value} found={found} />
        )
      ) : (
        <p className="tree-flag s">{rows.refusals[0]?.message}</p>
      )}
      <p className="caption">{thinnest.rules.ok ? thinnest.rules.value.sentence : ''}</p>
    </Plate>
  )
}

function RuleTable({ rows, found }: { rows: readonly RuleRow[]; found: RulesAt }) {
  return (
    <Scrolled label="Published shell rules">
      <table>
        <thead>
          <tr>
            <th>Rule</th>
            <th className="n">At the thinnest</th>
            {found.mean ? <th className="n">At the mean</th> : null}
            <th>Where the rule draws its lines</th>
            <th>Made for, and source</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.rule.id}>
              <td>
                {row.rule.name}
                <div className="s q">{row.rule.formula}</div>
              </td>
              <td className="n">{row.atThinnest}</td>
              {found.mean ? <td className="n">{row.atMean}</td> : null}
              <td className="s">
                {row.lines.map((line) => (
                  <div key={line}>{line}</div>
                ))}
              </td>
              <td className="s">
                {row.rule.domain}
                <LeftDomain rule={row.rule} said={outsideAll(rows)} />
                <p className="q">
                  {row.rule.source}
                  {memoryMark(row.rule)}
                </p>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolled>
  )
}

function RuleList({ rows }: { rows: readonly RuleRow[] }) {
  return (
    <ul className="tree-list">
      {rows.map((row) => (
        <li key={row.rule.id}>
          <b>{row.rule.name}</b>, {row.rule.formula}: {row.atThinnest} at the thinnest
          {row.atMean ? `, ${row.atMean} at the mean` : ''}.
          {row.lines.map((line) => (
            <p key={line} className="q">
              {line}
            </p>
          ))}
          <p className="q">{row.rule.domain}</p>
          <LeftDomain rule={row.rule} said={outsideAll(rows)} />
          <p className="q">
            {row.rule.source}
            {memoryMark(row.rule)}
          </p>
        </li>
      ))}
    </ul>
  )
}

/** Why a rule does not speak of this place. */
function LeftDomain({ rule, said }: { rule: ShellRule; said: readonly string[] }) {
  const left = rule.domainLeft.filter((sentence) => !said.includes(sentence))
  return left.length > 0 ? <p className="wood-left">Outside of it here: {left.join(' ')}</p> : null
}

const memoryMark = (rule: ShellRule) =>
  rule.basis === 'memory' && !/memory/.test(rule.source) ? ', from memory' : ''
