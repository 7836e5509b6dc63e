import type { ComponentChildren } from 'preact';
import { Explained } from '../parts/explained.tsx';
import { Rich } from '../parts/rich.tsx';
import { PLATE } from '../../src/tuning/advice/plate.ts';
import { FACES } from '../../src/face/faces.ts';
import { drawGroups, drawnEstimate } from '../../src/drawing/draw-groups.ts';
import { usualDistancesM } from '../../src/face/usual-distances.ts';
import type { Group, Offset } from '../../src/groups/groups.ts';
import { DISTANCE_M } from '../../src/request/limits.ts';
import { wantedOffset } from '../../src/tuning/advice/axis-verdict.ts';
import type { Advice, Tuning } from '../../src/tuning/advice/tuning.ts';
import { AskHand } from '../parts/ask-hand.tsx';
import { GlyphSign } from '../parts/glyph-sign.tsx';
import { SCREEN } from '../parts/screen-palette.ts';
import { UnitStepper } from '../parts/unit-stepper.tsx';
import { goTo } from '../state/route.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { settings } from '../state/settings.ts';
import { UnreadSizes } from '../parts/unread-sizes.tsx';
import { sayOfEnd } from '../open-ends/say-of-end.ts';
import { OddsStrip } from './odds-strip.tsx';
import { WhichBare } from './which-bare.tsx';
import { say, words } from '../state/words.ts';

/** What the end says of the bow: both groups to scale, how sure it is, and what to do. */
export function VerdictPanel({ end }: { end: OpenEnd }) {
  const evaluation = end.evaluation.value;
  const reading = end.reading.value;
  if (!evaluation || !reading) return null;
  if (end.unreadSizes.value !== null) {
    return (
      <section class="panel panel-verdict" data-panel="verdict" aria-label={say('Verdict')}>
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
    { palette: SCREEN, fontFamily: 'inherit', words: words.value },
  );
  return (
    <section class="panel panel-verdict" data-panel="verdict" aria-label={say('Verdict')}>
      <WhichBare end={end} />
      <h2 class={`verdict-head verdict-${tone(tuning)}`} aria-live="polite">
        {headline(tuning, end)}
      </h2>
      {tuning && <p class="verdict-summary">{tuning.summary}</p>}
      <figure class="plot">
        <div dangerouslySetInnerHTML={{ __html: plot }} />
        <figcaption>
          <span>
            <GlyphSign glyph="fletched" /> {say('fletched')}
          </span>
          <span>
            <GlyphSign glyph="bare" /> {say('bare')}
          </span>
          {(estimate === undefined ? groups.offset?.region90Mrad : estimate) && (
            <span>
              <i class="key key-region" /> {say('true centre of the bare shafts, 90 % region')}
              {estimate &&
                estimate.ends > 1 &&
                `, ${say('with your last {ends} ends', { ends: estimate.ends })}`}
            </span>
          )}
          {tuning?.plate && (
            <span>
              <i class="key key-plate" />{' '}
              {say('plate: {size} at {distance}, to scale', {
                size: words.value.mm(PLATE.diameterMm),
                distance: words.value.metres(PLATE.atM),
              })}
              <Explained term="plate" />
            </span>
          )}
          {distanceM !== null && groups.offset && (
            <span>
              <i class="key key-wanted" /> {say('near enough to where bare shafts are wanted')}
              <Explained term="dead-zone" />
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
            {groups.offset.mrad && <Explained term="mrad" />}
            {tuning.plate && ` ${plateWords(tuning.plate, tuning.withinPlate)}`}
          </p>
        </div>
      )}
      {distanceM === null && (
        <div class="ask">
          <p>
            {say('Say the distance to judge the offset against plate and dead zone.')}
            <Explained term="plate" />
            <Explained term="dead-zone" />
          </p>
          <UnitStepper
            label={say('Distance')}
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
      {tuning && <AskHand end={end} />}
      {tuning && <AdviceList tuning={tuning} />}
      <GroupFigures fletched={groups.fletched} bare={groups.bare} />
      <p class="panel-next">
        <button type="button" class="button primary" onClick={() => (end.step.value = 'keep')}>
          {say('Keep this end')}
        </button>
        <button type="button" class="button" onClick={() => goTo('home')}>
          {say('Photograph the next')}
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
    if (marks.length === 0) return say('No arrows marked yet');
    return marks.some((mark) => mark.kind === 'bare')
      ? say('No fletched arrows tagged: nothing to compare with')
      : say('No bare shafts tagged: this end says nothing about the bow');
  }
  const { vertical, horizontal } = tuning;
  const settled = [vertical, horizontal].filter(
    (axis) => axis.certainty !== 'undecided' && axis.direction !== 'level',
  );
  if (settled.length === 0) {
    return vertical.certainty === 'undecided' || horizontal.certainty === 'undecided'
      ? say('Undecided: this could be chance')
      : say('Nothing to change');
  }
  const [one, two] = settled;
  const side = ({ direction }: (typeof settled)[number]) => say(direction);
  const sure = ({ certainty }: (typeof settled)[number]) => say(certainty);
  if (!two) return say('Bare shafts {side}: {sure}', { side: side(one!), sure: sure(one!) });
  const both = { one: side(one!), two: side(two), sure: sure(two) };
  return one!.certainty === two.certainty
    ? say('Bare shafts {one} and {two}: {sure}', both)
    : say('Bare shafts {one} ({sureOfOne}) and {two} ({sure})', { ...both, sureOfOne: sure(one!) });
}

function percent(p: number): string {
  const written = words.value.percent;
  if (p > 0.99) return say('over {p}', { p: written(99) });
  if (p < 0.01) return say('under {p}', { p: written(1) });
  return written(Math.round(p * 100));
}

function plateWords({ p }: NonNullable<Tuning['plate']>, isWithin: boolean | null): string {
  return isWithin
    ? say('Within the plate that plunger and nocking point can trim ({p}).', { p: percent(p) })
    : say('Beyond the plate that plunger and nocking point can trim ({p}).', {
        p: percent(1 - p),
      });
}

function offsetWords(
  { mm, mrad }: Offset,
  distanceM: number | null,
  estimate: Tuning['estimate'] | undefined,
): string {
  const { mm: length, metres, number } = words.value;
  const size = (value: number) => ({ size: length(Math.abs(value)) });
  const up = say(mm[1] < 0 ? '{size} low' : '{size} high', size(mm[1]));
  const across = say(mm[0] < 0 ? '{size} left' : '{size} right', size(mm[0]));
  const at = distanceM === null ? '' : ` ${say('at {distance}', { distance: metres(distanceM) })}`;
  const angle = mrad
    ? ` (${say('{up} and {across} mrad', { up: number(Math.abs(mrad[1]), 1), across: number(Math.abs(mrad[0]), 1) })})`
    : '';
  return estimate && estimate.ends > 1
    ? say('This end alone: {up}, {across}{at}.', { up, across, at: at + angle })
    : say('Offset of the bare group: {up}, {across}{at}.', { up, across, at: at + angle });
}

/** Without what a step before has said already: a caution is read once, not three times. */
function withoutRepeats(advice: readonly Advice[]): readonly Advice[] {
  const said = new Set<string>();
  const isNew = (text: string) => !said.has(text) && said.add(text) !== undefined;
  return advice.map((one) => ({
    ...one,
    reason: isNew(one.reason) ? one.reason : '',
    cautions: one.cautions.filter(isNew),
  }));
}

function AdviceList({ tuning }: { tuning: Tuning }) {
  return (
    <section class="advice" aria-label={say('What to do')}>
      <h3>
        {say(
          tuning.advice[0]?.kind === 'leave' ? 'Leave it as it is' : 'What to do, in this order',
        )}
      </h3>
      <ol>
        {withoutRepeats(tuning.advice).map((advice) => (
          <li key={advice.action} data-kind={advice.kind}>
            <p class="advice-adjuster">{advice.adjuster}</p>
            <p class="advice-action">{advice.action}</p>
            {advice.reason !== '' && (
              <p class="advice-reason">{say('Why: {reason}', { reason: advice.reason })}</p>
            )}
            {advice.cautions.length > 0 && (
              <ul class="cautions" aria-label={say('Cautions')}>
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
          <Rich>
            {say(
              '<b>{fletched} fletched and {bare} bare more</b> would settle it.',
              tuning.shootMore,
            )}
          </Rich>
        </p>
      )}
    </section>
  );
}

function GroupFigures({ fletched, bare }: { fletched: Group | null; bare: Group | null }) {
  const shown = [
    { name: say('Fletched'), group: fletched },
    { name: say('Bare'), group: bare },
  ].flatMap(({ name, group }) => (group ? [{ name, group }] : []));
  if (shown.length === 0) return null;
  const mm = (value: number | null) => (value === null ? '–' : words.value.mm(value));
  const { inLength } = words.value;
  const rows: readonly { what: string; of: (group: Group) => ComponentChildren }[] = [
    { what: say('Arrows'), of: ({ n }) => n },
    {
      what: say('Spread σ'),
      of: ({ sigmaMm, sigmaInterval95Mm: interval }) => (
        <>
          {mm(sigmaMm)}
          {interval && (
            <small>
              {say('{low} to {high}', { low: inLength(interval[0]), high: inLength(interval[1]) })}
            </small>
          )}
        </>
      ),
    },
    { what: say('Mean radius'), of: ({ meanRadiusMm }) => mm(meanRadiusMm) },
    { what: say('Widest'), of: ({ extremeSpreadMm }) => mm(extremeSpreadMm) },
  ];
  return (
    <table class="figures">
      <caption>{say('Groups')}</caption>
      <thead>
        <tr>
          <th scope="col">
            <span class="visually-hidden">{say('Group')}</span>
          </th>
          {shown.map(({ name }) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ what, of }) => (
          <tr key={what}>
            <th scope="row">{what}</th>
            {shown.map(({ name, group }) => (
              <td key={name}>{of(group)}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
