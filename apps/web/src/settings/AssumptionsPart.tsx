import { Plate, Standing } from '../look/index.ts'
import { AssumedEdit } from './AssumedEdit.tsx'
import { assumptions } from './assumptions.ts'

/** Every figure of ours that no published source gives, so that a person can judge what rests on it. */
export function AssumptionsPart() {
  return (
    <>
      <p className="prose q">
        No published source gives these figures; they are ours, and what is computed rests on them. They say
        who would be under a fall, not whether one comes.
      </p>
      <AssumedEdit />
      <h2>Also assumed</h2>
      <div className="assumptions">
        {assumptions.map(({ title, figures }) => (
          <Plate key={title} title={title}>
            <table>
              <thead>
                <tr>
                  <th>What is assumed</th>
                  <th className="n">Figure</th>
                  <th>Where it works</th>
                </tr>
              </thead>
              <tbody>
                {figures.map((figure) => (
                  <tr key={figure.what}>
                    <td>{figure.what}</td>
                    <td className="n">{figure.figure}</td>
                    <td className="s q">{figure.where}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </Plate>
        ))}
      </div>
      <Standing />
    </>
  )
}
