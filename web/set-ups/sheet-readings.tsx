import type { JourneySheet } from '../../src/tuning/bow/journey-sheet.ts';

/** Readings of a set-up as a table. */
export function SheetReadings({ values }: { readonly values: JourneySheet['values'] }) {
  return (
    <table class="figures">
      <caption>Readings</caption>
      <tbody>
        {values.map((value) => (
          <tr key={value.name}>
            <th scope="row">{value.name}</th>
            <td>{value.reading}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
