import type { Group, Groups } from '../../../src/groups/groups.ts';
import type { Tuning } from '../../../src/tuning/advice/tuning.ts';

/** Groups, offset and advice as plain text, for a person at a terminal. */
export function tuningReport(groups: Groups, tuning: Tuning | null): string {
  const lines: string[] = [];
  if (groups.fletched) lines.push(`Fletched  ${groupLine(groups.fletched)}`);
  if (groups.bare) lines.push(`Bare      ${groupLine(groups.bare)}`);
  if (groups.offset) {
    const { mm, mrad } = groups.offset;
    const angle = mrad ? ` (${signed(mrad[0], 1)}, ${signed(mrad[1], 1)} mrad)` : '';
    lines.push(`Offset    ${signed(mm[0], 0)} mm right, ${signed(mm[1], 0)} mm up${angle}`);
  }
  if (!tuning) return lines.join('\n') + '\n';
  lines.push(
    `Verdict   ${axisWords(tuning.vertical)}; ${axisWords(tuning.horizontal)}`,
    '',
    tuning.summary,
  );
  if (tuning.fletchedForm.verdict === 'wider') lines.push(tuning.fletchedForm.meaning);
  const said = new Set<string>();
  tuning.advice.forEach((step, index) => {
    lines.push(`${index + 1}. ${step.action}`, `   ${step.reason}`);
    for (const caution of step.cautions) {
      if (!said.has(caution)) lines.push(`   ! ${caution}`);
      said.add(caution);
    }
  });
  return lines.join('\n') + '\n';
}

function axisWords({ direction, certainty, p }: Tuning['vertical'] | Tuning['horizontal']): string {
  return `${direction} with ${percent(p)} (${certainty})`;
}

function groupLine(group: Group): string {
  const centre = `centre ${signed(group.meanMm[0], 0)}, ${signed(group.meanMm[1], 0)} mm`;
  const arrows = `${group.n} ${group.n === 1 ? 'arrow' : 'arrows'}`;
  if (group.sigmaMm === null) return `${arrows}, ${centre}`;
  const interval = group.sigmaInterval95Mm;
  const range = interval ? ` (95 %: ${interval[0].toFixed(0)} to ${interval[1].toFixed(0)})` : '';
  return `${arrows}, ${centre}, spread ${group.sigmaMm.toFixed(0)} mm per axis${range}`;
}

function signed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return value >= 0 ? `+${text}` : text;
}

/** Never "100 %": that would claim more than a few arrows can. */
function percent(p: number): string {
  return p > 0.99 ? 'over 99 %' : p < 0.01 ? 'under 1 %' : `${Math.round(p * 100)} %`;
}
