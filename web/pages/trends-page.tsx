import { Explained } from '../parts/explained.tsx';
import { archerName, setUpName } from '../parts/said-names.ts';
import { Rich } from '../parts/rich.tsx';
import type { ComponentChildren } from 'preact';
import { useSignal } from '@preact/signals';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { drawComparison } from '../../src/drawing/draw-comparison.ts';
import { drawSpreadAgainstDistance } from '../../src/drawing/draw-spread-against-distance.ts';
import { drawTimeline } from '../../src/drawing/draw-timeline.ts';
import { drawWalkBack } from '../../src/drawing/draw-walk-back.ts';
import { drawArrowPlaces } from '../../src/drawing/draw-arrow-places.ts';
import { arrowPlaces, placeWords, type ArrowPlaces } from '../../src/trends/arrow-places.ts';
import { compareSetUps } from '../../src/trends/compare-set-ups.ts';
import { spreadAgainstDistance } from '../../src/trends/spread-against-distance.ts';
import { timeline, type Timeline } from '../../src/trends/timeline.ts';
import {
  isMeasured,
  scoredEnds,
  withoutDistanceWords,
  type ScoredEnd,
  type TrendEnd,
} from '../../src/trends/trend-ends.ts';
import { walkBack } from '../../src/trends/walk-back.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import type { WholeLog } from '../../src/tuning/record/bow-log.ts';
import { wholeLog } from '../keep/whole-log.ts';
import { SCREEN } from '../parts/screen-palette.ts';
import { hashOf } from '../state/route.ts';
import { settings } from '../state/settings.ts';
import { Squad } from '../trends/squad.tsx';
import { say, words } from '../state/words.ts';

/** How plots are drawn on the screen, in the page's language. */
const look = () => ({ palette: SCREEN, fontFamily: 'inherit', words: words.value });

/** What many ends say together: over time, over distance, between set-ups, and archer by archer. */
export function TrendsPage() {
  const log = useSignal<WholeLog | null>(null);
  const archerId = useSignal<string | null>(null);
  useEffect(() => {
    void wholeLog().then(
      (all) => {
        log.value = all;
        const mine = all.archers.find((archer) => archer.name === settings.value.archer);
        archerId.value = (mine ?? all.archers[0])?.id ?? null;
      },
      () => (log.value = { archers: [], bows: [], setUps: [], sessions: [], ends: [] }),
    );
  }, []);
  if (!log.value) return <main class="page" aria-busy="true" />;
  const { archers, setUps, sessions } = log.value;
  const ends = scoredEnds(log.value);
  if (ends.length === 0) {
    return (
      <main class="page">
        <section class="empty">
          <h1>{say('No trends yet')}</h1>
          <p>{say('Keep a few ends: spread, offset and scores are drawn here.')}</p>
          <a class="button primary" href={hashOf('home')}>
            {say('Photograph a face')}
          </a>
        </section>
      </main>
    );
  }
  const ofArcher = (id: string) => {
    const own = new Set(sessions.filter((one) => one.archerId === id).map((one) => one.id));
    return ends.filter((end) => own.has(end.sessionId));
  };
  const own = archerId.value === null ? [] : ofArcher(archerId.value);
  return (
    <main class="page trends">
      <h1>{say('Trends')}</h1>
      {archers.length > 1 && (
        <>
          <Squad
            rows={archers.map((archer) => ({ archer, ends: ofArcher(archer.id) }))}
            shown={archerId.value}
            onShow={(id) => (archerId.value = id)}
          />
          <h2 class="trends-archer">
            {archerName(archers.find(({ id }) => id === archerId.value)?.name ?? '')}
          </h2>
        </>
      )}
      <OfArcher key={archerId.value} ends={own} setUps={setUps} />
      {log.value.bows
        .filter((bow) => bow.archerId === archerId.value)
        .map((bow) => (
          <ArrowsOfBow key={bow.id} bow={bow} log={log.value!} />
        ))}
    </main>
  );
}

function OfArcher({
  ends: all,
  setUps,
}: {
  ends: readonly (ScoredEnd | TrendEnd)[];
  setUps: readonly SetUp[];
}) {
  const ends = all.filter(isMeasured);
  const leftOut = withoutDistanceWords(all, words.value);
  const used = setUps.filter((setUp) => ends.some((end) => end.setUpId === setUp.id));
  const names = Object.fromEntries(used.map((setUp) => [setUp.id, setUpName(setUp)]));
  const time = timeline(all);
  const spread = spreadAgainstDistance(ends, words.value);
  const series = used
    .map((setUp) => ({
      name: setUpName(setUp),
      trend: spreadAgainstDistance(ends.filter((end) => end.setUpId === setUp.id)),
    }))
    .filter(({ trend }) => trend.points.length > 0);
  const walk = walkBack(ends, words.value);
  return (
    <>
      {leftOut !== null && (
        <p class="quiet">
          {leftOut}{' '}
          <Rich mark={(part) => <a href={hashOf('kept')}>{part}</a>}>
            {say('Open it under <b>Kept</b> to say it.')}
          </Rich>
        </p>
      )}
      <Plot
        title={say('Over time')}
        draw={(width) => drawTimeline(time, names, { ...look(), width })}
      >
        <p class="quiet">
          mrad <Explained term="mrad" />
        </p>
        <SessionTable points={time.points} />
        <p class="quiet">{say('Averages leave bare shafts out.')}</p>
      </Plot>
      <Plot
        title={say('Spread against distance')}
        draw={(width) => drawSpreadAgainstDistance(series, { ...look(), width })}
      >
        <p>{spread.meaning}</p>
      </Plot>
      {used.length > 1 && <Compare ends={ends} used={used} />}
      <Plot
        title={say('Line of impact')}
        draw={(width) => drawWalkBack(walk, { ...look(), width })}
      >
        <p>{walk.meaning}</p>
      </Plot>
    </>
  );
}

/** Where each numbered arrow of a bow lands; nothing where no shaft was ever numbered. */
function ArrowsOfBow({ bow, log }: { readonly bow: Bow; readonly log: WholeLog }) {
  const places = useMemo(
    () =>
      arrowPlaces(
        bow,
        { ...log, setUps: log.setUps.filter((setUp) => setUp.bowId === bow.id) },
        words.value,
      ),
    [bow, log, words.value],
  );
  return (
    <>
      {places
        .filter(({ ends }) => ends > 0)
        .map((of) => (
          <ArrowByArrow key={of.kind} places={of} bow={bow} />
        ))}
    </>
  );
}

const VERDICTS = {
  apart: 'lands apart',
  'with the group': 'with the group',
  open: 'open#arrow',
} as const;

function ArrowByArrow({ places, bow }: { readonly places: ArrowPlaces; readonly bow: Bow }) {
  const { arrows, distanceM, kind, meaning, cautions } = places;
  const what = say(kind === 'bare' ? 'Bare shaft by bare shaft' : 'Arrow by arrow');
  return (
    <Plot
      title={`${what}, ${bow.name}`}
      draw={(width) =>
        drawArrowPlaces(places, { ...look(), width: Math.min(width, ARROWS_WIDTH_AT_MOST) })
      }
    >
      <p>{meaning}</p>
      {cautions.length > 0 && (
        <ul class="cautions">
          {cautions.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      )}
      {arrows.length > 0 && (
        <div
          class="table-scroll"
          role="group"
          aria-label={say('{what}, table', { what })}
          tabIndex={0}
        >
          <table class="figures">
            <thead>
              <tr>
                <th scope="col">{say('Number')}</th>
                <th scope="col">{say('Shots')}</th>
                <th scope="col">
                  {say('From the others at {distance}', {
                    distance: words.value.metres(distanceM!),
                  })}
                </th>
                <th scope="col">90 %</th>
                <th scope="col">{say('Verdict')}</th>
              </tr>
            </thead>
            <tbody>
              {arrows.map((arrow) => (
                <tr key={arrow.arrowNumber}>
                  <th scope="row">{arrow.arrowNumber}</th>
                  <td>{arrow.shots}</td>
                  <td>{placeWords(arrow, distanceM!, words.value)}</td>
                  <td>± {words.value.mm(arrow.half90Mrad * distanceM!)}</td>
                  <td>
                    {say(VERDICTS[arrow.verdict])}
                    {arrow.moreShots !== null &&
                      `, ${say('{n} more to tell', { n: arrow.moreShots })}`}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </Plot>
  );
}

/** As high as wide, it would fill the screen of a desk. */
const ARROWS_WIDTH_AT_MOST = 460;

interface PlotProps {
  readonly title: string;
  /** @param width that there is, px */
  readonly draw: (width: number) => string;
  readonly children?: ComponentChildren;
}

/** Wider, a drawing's letters are no easier to read; narrower, they no longer fit. */
const WIDTHS = { least: 240, most: 620 };

function Plot({ title, draw, children }: PlotProps) {
  const box = useRef<HTMLDivElement>(null);
  const room = useSignal<number | null>(null);
  useEffect(() => {
    const observer = new ResizeObserver(([entry]) => {
      const { least, most } = WIDTHS;
      room.value = Math.round(Math.min(most, Math.max(least, entry!.contentRect.width)));
    });
    observer.observe(box.current!);
    return () => observer.disconnect();
  }, []);
  return (
    <section class="card trend" aria-label={title}>
      <h2>{title}</h2>
      <div
        ref={box}
        class="trend-plot"
        dangerouslySetInnerHTML={{ __html: room.value === null ? '' : draw(room.value) }}
      />
      {children}
    </section>
  );
}

function Compare({ ends, used }: { ends: readonly TrendEnd[]; used: readonly SetUp[] }) {
  const first = useSignal(used.at(-2)!.id);
  const second = useSignal(used.at(-1)!.id);
  const nameOf = (id: string) => setUpName(used.find((setUp) => setUp.id === id)!);
  const comparison = compareSetUps(ends, first.value, second.value, words.value);
  const compared = { first: nameOf(first.value), second: nameOf(second.value) };
  return (
    <Plot
      title={say('Two set-ups side by side')}
      draw={(width) => drawComparison(comparison, compared, { ...look(), width })}
    >
      <div class="settings">
        {[
          { title: say('First'), id: first },
          { title: say('Second'), id: second },
        ].map(({ title, id }) => (
          <label key={title} class="field">
            <span class="field-name">{title}</span>
            <select value={id.value} onChange={(event) => (id.value = event.currentTarget.value)}>
              {used.map((setUp) => (
                <option key={setUp.id} value={setUp.id}>
                  {setUpName(setUp)}
                </option>
              ))}
            </select>
          </label>
        ))}
      </div>
      <p>{comparison.summary}</p>
    </Plot>
  );
}

function SessionTable({ points }: Pick<Timeline, 'points'>) {
  return (
    <div class="table-scroll" role="group" aria-label={say('Sessions, table')} tabIndex={0}>
      <table class="figures">
        <caption>{say('Sessions')}</caption>
        <thead>
          <tr>
            <th scope="col">{say('Day')}</th>
            <th scope="col">{say('Distance#column')}</th>
            <th scope="col">{say('Arrows')}</th>
            <th scope="col">{say('Points an arrow')}</th>
            <th scope="col">{say('Spread')}</th>
          </tr>
        </thead>
        <tbody>
          {[...points].reverse().map((point) => (
            <tr key={point.sessionId}>
              <th scope="row">{words.value.day(point.at)}</th>
              <td>
                {point.distanceM === null ? say('not said') : words.value.metres(point.distanceM)}
              </td>
              <td>{point.arrows}</td>
              <td>{point.average === null ? '–' : words.value.number(point.average, 2)}</td>
              <td>
                {point.spread === null || point.distanceM === null
                  ? '–'
                  : words.value.mm(point.spread.sigmaMrad * point.distanceM)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
