import { FACES } from '../../../src/face/faces.ts';
import type { Reading, UsedLog } from '../../../src/reading/reading.ts';
import { tuningReport } from './tuning-report.ts';

/** A reading as plain text, for a person at a terminal. */
export function readingReport(reading: Reading, log?: UsedLog): string {
  const { fit, marks, score } = reading;
  const fresh = marks.filter((mark) => mark.age !== 'old');
  const old = marks.length - fresh.length;
  const lines = [
    `Face      ${FACES[reading.face].name}; rings fit to ${fit.residualMm.toFixed(2)} mm, ` +
      `tilt ${fit.tiltDeg.toFixed(0)} degrees`,
    `Score     ${score.total} with ${score.arrows} ${score.arrows === 1 ? 'arrow' : 'arrows'}` +
      `${score.inners > 0 ? `, ${score.inners} in the inner ring` : ''}; the judge at the boss decides`,
    `Marks     ${fresh.length} of this end${old > 0 ? `, ${old} old` : ''}`,
    ...(log ? [`Log       ${logLine(log)}`] : []),
    '',
    '  value   right      up    ±    kind      state     sure',
    ...fresh.map(markLine),
    '',
    ...(reading.groups?.fletched || reading.groups?.bare
      ? [tuningReport(reading.groups, reading.tuning)]
      : []),
    ...[...fit.notes, ...reading.warnings].map((note) => `Note: ${note}`),
  ];
  return lines.join('\n').trimEnd() + '\n';
}

function logLine({ archer, bow, setUp, ends }: UsedLog): string {
  const what = [archer, bow, setUp].filter((one) => one !== null).join(', ');
  return `${what}: ${ends} ${ends === 1 ? 'end' : 'ends'} kept`;
}

function markLine(mark: Reading['marks'][number]): string {
  const value = mark.zone === 0 ? 'M' : `${mark.zone}${mark.inner ? '*' : ''}`;
  const call = mark.lineCall
    ? `  line: ${mark.lineCall.zone} with ${Math.round(mark.lineCall.p * 100)} %`
    : '';
  return (
    `  ${value.padStart(5)} ${mark.mm[0].toFixed(1).padStart(7)} ${mark.mm[1].toFixed(1).padStart(7)} ` +
    `${mark.sdMm.toFixed(1).padStart(4)}    ${mark.kind.padEnd(9)} ${mark.state.padEnd(9)} ` +
    `${Math.round(mark.confidence * 100)} %${call}`
  );
}
