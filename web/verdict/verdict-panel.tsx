import { FACES } from '../../src/face/faces.ts';
import { drawGroups, drawnEstimate } from '../../src/drawing/draw-groups.ts';
import { usualDistancesM } from '../../src/face/usual-distances.ts';
import type { Group, Offset } from '../../src/groups/groups.ts';
import { DISTANCE_M } from '../../src/request/limits.ts';
import { wantedOffset } from '../../src/tuning/advice/axis-verdict.ts';
import type { Tuning } from '../../src/tuning/advice/tuning.ts';
import { GlyphSign } from '../parts/glyph-sign.tsx';
import { SCREEN } from '../parts/screen-palette.ts';
import { Stepper } from '../parts/stepper.tsx';
import { goTo } from '../state/route.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { settings } from '../state/settings.ts';
import { UnreadSizes } from '../parts/unread-sizes.tsx';
import { sayOfEnd } from '../open-ends/say-of-end.ts';
import { OddsStrip } from './odds-strip.tsx';
import { WhichBare } from './which-bare.tsx';

/** What the end says of the bow: both groups to scale, how sure it is, and what to do. */
export function VerdictPanel({ end }: { end: OpenEnd }) {
  const evaluation = end.evaluation.value;
  const reading = end.reading.value;
  if (!evaluation || !reading) return null;
  if (end.unreadSizes.value !== null) {
    return (
      <section class="panel panel-verdict" data-panel="verdict" aria-label="Verdict">
        <UnreadSizes end={end} />
      </section>
    );
  }
  const { groups, tuning, guessedTags, preferredMrad } = evaluation;
  const { distanceM } = end.settings.value;
  const estimate = drawnEstimate(tuning, guessedTags);
  const arrows = evaluation.marks.filter((mark) => mark.age !== 'old');
  const plot = drawGroups(
    {
      face: FACES[reading.face],
      arrows,
      groups,
      distanceM: distanceM ?? undefined,
      estimate,
      plateRadiusMm: tuning?.plate?.radiusMm,
      wanted:
        distanceM === null || !groups.offset ? undefined : wantedOffset(preferredMrad, distanceM),
    },
    { palette: SCREEN, fontFamily: 'inherit' },
  );
  return (
    <section class="panel panel-verdict" data-panel="verdict" aria-label="Verdict">
      <WhichBare end={end} />
      <h2 class={`verdict-head verdict-${tone(tuning)}`} aria-live="polite">
        {headline(tuning, end)}
      </h2>
      {tuning && <p class="verdict-summary">{tuning.summary}</p>}
      <figure class="plot">
        <div dangerouslySetInnerHTML={{ __html: plot }} />
        <figcaption>
          <span>
            <GlyphSign glyph="fletched" /> fletched
          </span>
          <span>
            <GlyphSign glyph="bare" /> bare
          </span>
          {(estimate === undefined ? groups.offset?.region90Mrad : estimate) && (
            <span>
              <i class="key key-region" /> true centre of the bare shafts, 90 % region
              {estimate && estimate.ends > 1 && `, with your last ${estimate.ends} ends`}
            </span>
          )}
          {tuning?.plate && (
            <span>
              <i class="key key-plate" /> plate: 270 mm at 30 m, to scale
            </span>
          )}
          {distanceM !== null && groups.offset && (
            <span>
              <i class="key key-wanted" /> near enough to where bare shafts are wanted
            </span>
          )}
        </figcaption>
      </figure>
      {groups.offset && tuning && (
        <div class="odds">
          <OddsStrip less="low" more="high" verdict={tuning.vertical} />
          <OddsStrip less="left" more="right" verdict={tuning.horizontal} />
          <p class="quiet">
            {offsetWords(groups.offset, distanceM, estimate)}
            {tuning.plate &&
              ` ${tuning.withinPlate ? 'Within' : 'Beyond'} the plate that plunger and nocking point can trim (${percent(tuning.withinPlate ? tuning.plate.p : 1 - tuning.plate.p)}).`}
          </p>
        </div>
      )}
      {distanceM === null && (
        <div class="ask">
          <p>
            Say the shooting distance, and the offset can be judged against plate and dead zone.
          </p>
          <Stepper
            label="Distance"
            unit="m"
            value={distanceM}
            min={DISTANCE_M.min}
            max={DISTANCE_M.max}
            start={settings.value.distanceM ?? usualDistancesM(reading.face)[0]!}
            onChange={(next) => {
              sayOfEnd(end, { distanceM: next });
            }}
          />
        </div>
      )}
      {tuning && <AdviceList tuning={tuning} />}
      {(groups.fletched ?? groups.bare) && (
        <table class="figures">
          <caption>Groups</caption>
          <thead>
            <tr>
              <th scope="col">
                <span class="visually-hidden">Group</span>
              </th>
              <th scope="col">Arrows</th>
              <th scope="col">Spread σ</th>
              <th scope="col">Mean radius</th>
              <th scope="col">Widest</th>
            </tr>
          </thead>
          <tbody>
            <GroupRow name="Fletched" group={groups.fletched} />
            <GroupRow name="Bare" group={groups.bare} />
          </tbody>
        </table>
      )}
      <p class="panel-next">
        <button type="button" class="button primary" onClick={() => (end.step.value = 'keep')}>
          Keep this end
        </button>
        <button type="button" class="button" onClick={() => goTo('home')}>
          Photograph the next
        </button>
      </p>
    </section>
  );
}

function tone(tuning: Tuning | null): 'none' | 'open' | 'wanted' | 'change' {
  if (!tuning) return 'none';
  const first = tuning.advice[0]?.kind;
  if (first === 'leave') return 'wanted';
  if (first === 'adjust') return 'change';
  return 'open';
}

/** The verdict in a few words, to be read at arm's length. */
export function headline(tuning: Tuning | null, end: OpenEnd): string {
  if (!tuning) {
    const marks = end.evaluation.value!.marks.filter((mark) => mark.age !== 'old');
    if (marks.length === 0) return 'No arrows marked yet';
    return marks.some((mark) => mark.kind === 'bare')
      ? 'No fletched arrows tagged: nothing to compare with'
      : 'No bare shafts tagged: this end says nothing about the bow';
  }
  const { vertical, horizontal } = tuning;
  const settled = [vertical, horizontal].filter(
    (axis) => axis.certainty !== 'undecided' && axis.direction !== 'level',
  );
  if (settled.length === 0) {
    return vertical.certainty === 'undecided' || horizontal.certainty === 'undecided'
      ? 'Undecided: this could be chance'
      : 'Nothing to change';
  }
  const [one, two] = settled;
  if (!two) return `Bare shafts ${one!.direction}: ${one!.certainty}`;
  return one!.certainty === two.certainty
    ? `Bare shafts ${one!.direction} and ${two.direction}: ${two.certainty}`
    : `Bare shafts ${one!.direction} (${one!.certainty}) and ${two.direction} (${two.certainty})`;
}

function percent(p: number): string {
  if (p > 0.99) return 'over 99 %';
  if (p < 0.01) return 'under 1 %';
  return `${Math.round(p * 100)} %`;
}

function offsetWords(
  { mm, mrad }: Offset,
  distanceM: number | null,
  estimate: Tuning['estimate'] | undefined,
): string {
  const side = (value: number, [less, more]: readonly [string, string], unit: string) =>
    `${Math.abs(value).toFixed(unit === 'mm' ? 0 : 1)} ${unit} ${value < 0 ? less : more}`;
  const at = distanceM === null ? '' : ` at ${distanceM} m`;
  const angle = mrad
    ? ` (${Math.abs(mrad[1]).toFixed(1)} and ${Math.abs(mrad[0]).toFixed(1)} mrad)`
    : '';
  const whose = estimate && estimate.ends > 1 ? 'This end alone' : 'Offset of the bare group';
  return `${whose}: ${side(mm[1], ['low', 'high'], 'mm')}, ${side(mm[0], ['left', 'right'], 'mm')}${at}${angle}.`;
}

function AdviceList({ tuning }: { tuning: Tuning }) {
  return (
    <section class="advice" aria-label="What to do">
      <h3>
        {tuning.advice[0]?.kind === 'leave' ? 'Leave it as it is' : 'What to do, in this order'}
      </h3>
      <ol>
        {tuning.advice.map((advice) => (
          <li key={advice.action} data-kind={advice.kind}>
            <p class="advice-adjuster">{advice.adjuster}</p>
            <p class="advice-action">{advice.action}</p>
            <p class="advice-reason">Why: {advice.reason}</p>
            {advice.cautions.length > 0 && (
              <ul class="cautions" aria-label="Cautions">
                {advice.cautions.map((caution) => (
                  <li key={caution}>{caution}</li>
                ))}
              </ul>
            )}
          </li>
        ))}
      </ol>
      {tuning.shootMore && (
        <p class="shoot-more">
          <b>
            {tuning.shootMore.fletched} fletched and {tuning.shootMore.bare} bare more
          </b>{' '}
          would settle it.
        </p>
      )}
    </section>
  );
}

function GroupRow({ name, group }: { name: string; group: Group | null }) {
  if (!group) return null;
  const mm = (value: number | null) => (value === null ? '–' : `${value.toFixed(0)} mm`);
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>{group.n}</td>
      <td>
        {mm(group.sigmaMm)}
        {group.sigmaInterval95Mm && (
          <small>
            {group.sigmaInterval95Mm[0].toFixed(0)} to {group.sigmaInterval95Mm[1].toFixed(0)}
          </small>
        )}
      </td>
      <td>{mm(group.meanRadiusMm)}</td>
      <td>{mm(group.extremeSpreadMm)}</td>
    </tr>
  );
}
