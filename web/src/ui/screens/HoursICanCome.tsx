/** The hours I can come: a weekly pattern and single days, in a few taps. The lead may type them for somebody. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { build, fullNameOf, me } from "../../app/session";
import type { components } from "../../wire/schema";
import { nextDays, withDay } from "../days/nextDays";
import { Button, MainButton, NoticeLine, RefusalPanel, TextField, Tick } from "../parts";
import { Screen } from "../Screen";
import { usePost } from "../usePost";
import { dayWords, WEEKDAYS } from "../words/days";

type Said = components["schemas"]["HoursSaid"];
type Hours = components["schemas"]["Hours"];

const NEXT = 4;
const USUAL = { begins: "09:00", ends: "17:00" };
const EVENING = { begins: "19:00", ends: "22:00" };

function Stretch(props: {
  whose: string;
  begins: string;
  ends: string;
  onChange: (begins: string, ends: string) => void;
}): JSX.Element {
  return (
    <div class="row-of-buttons">
      <TextField
        label={`${props.whose}, from`}
        kind="time"
        value={props.begins}
        onType={(begins) => props.onChange(begins, props.ends)}
      />
      <TextField
        label={`${props.whose}, until`}
        kind="time"
        value={props.ends === "24:00" ? "23:59" : props.ends}
        onType={(ends) => props.onChange(props.begins, ends)}
      />
    </div>
  );
}

function Week({ hours, onChange }: { hours: Hours; onChange: (hours: Hours) => void }): JSX.Element {
  const weekly = hours.weekly ?? [];
  return (
    <fieldset class="stack">
      <legend class="field-label">Every week</legend>
      {WEEKDAYS.map((day, weekday) => {
        const mine = weekly.filter((one) => one.weekday === weekday);
        const others = weekly.filter((one) => one.weekday !== weekday);
        return (
          <div key={day} class="stack">
            <Tick
              word={day}
              ticked={mine.length > 0}
              onTick={(on) =>
                onChange({
                  ...hours,
                  weekly: on ? [...others, { weekday, ...(weekday < 5 ? EVENING : USUAL) }] : others,
                })
              }
            />
            {mine.map((one, n) => (
              <Stretch
                key={n}
                whose={day}
                begins={one.begins}
                ends={one.ends}
                onChange={(begins, ends) =>
                  onChange({
                    ...hours,
                    weekly: [
                      ...others,
                      ...mine.map((old, at) => (at === n ? { weekday, begins, ends } : old)),
                    ],
                  })
                }
              />
            ))}
          </div>
        );
      })}
    </fieldset>
  );
}

interface NextProps {
  hours: Hours;
  today: string;
  onChange: (hours: Hours) => void;
}

/** One tap says no to a day on which I would come. */
function Next({ hours, today, onChange }: NextProps): JSX.Element {
  return (
    <fieldset class="stack">
      <legend class="field-label">The next days</legend>
      {nextDays(hours, today, NEXT).map((day) => (
        <Tick
          key={day.on}
          word={dayWords(day.on)}
          second={day.comes ? day.hours : "I can't come"}
          ticked={day.comes}
          onTick={(comes) => onChange(withDay(hours, day.on, comes))}
        />
      ))}
    </fieldset>
  );
}

function SingleDays({ hours, today, onChange }: NextProps): JSX.Element {
  const [on, setOn] = useState("");
  const exceptions = hours.exceptions ?? [];
  const above = new Set(nextDays(hours, today, NEXT).map((day) => day.on));
  const add = (comes: boolean) => {
    const one = comes ? { on, comes, ...USUAL } : { on, comes };
    const rest = exceptions.filter((old) => old.on !== on);
    onChange({ ...hours, exceptions: [...rest, one].sort((a, b) => a.on.localeCompare(b.on)) });
    setOn("");
  };
  return (
    <fieldset class="stack">
      <legend class="field-label">Single days</legend>
      <ul class="place-list">
        {exceptions.map((one, n) =>
          above.has(one.on) ? null : (
            <li key={`${one.on}-${n}`} class="stack">
              <p class="place-word">
                {dayWords(one.on)}: {one.comes ? "I come" : "I can't come"}
                {!one.comes && one.begins ? ` from ${one.begins} until ${one.ends}` : ""}
              </p>
              {one.comes && (
                <Stretch
                  whose={dayWords(one.on)}
                  begins={one.begins ?? ""}
                  ends={one.ends ?? ""}
                  onChange={(begins, ends) =>
                    onChange({
                      ...hours,
                      exceptions: exceptions.map((old, at) => (at === n ? { ...old, begins, ends } : old)),
                    })
                  }
                />
              )}
              <Button
                label="Take it off"
                heard={`Take ${dayWords(one.on)} off`}
                size={48}
                onPress={() => onChange({ ...hours, exceptions: exceptions.filter((_, at) => at !== n) })}
              />
            </li>
          ),
        )}
      </ul>
      <TextField label="Which day" kind="date" value={on} onType={setOn} />
      <div class="row-of-buttons">
        <Button label="I can't come" blocked={on ? undefined : "choose a day"} onPress={() => add(false)} />
        <Button label="I come" blocked={on ? undefined : "choose a day"} onPress={() => add(true)} />
      </div>
    </fieldset>
  );
}

export default function HoursICanCome({ person }: { person?: string }): JSX.Element {
  const whose = person ?? me.value?.person ?? "";
  const mine = whose === me.value?.person;
  const [said, setSaid] = useState<Said | null>(null);
  const [state, setState] = useState<"as kept" | "changed" | "kept">("as kept");
  const post = usePost();
  const path = `/api/builds/${build.value?.id ?? ""}/people/${whose}/hours`;
  const look = () => void post.send<Said>("GET", path).then(setSaid);
  useEffect(look, [path]);
  const known = (said?.hours.weekly ?? []).length > 0 && said?.at_ms != null; // else it would push away what is being ticked
  const change = (hours: Hours) => {
    if (said) setSaid({ ...said, hours });
    setState("changed");
  };
  return (
    <Screen title={mine ? "Hours I can come" : `Hours of ${fullNameOf(whose)}`} place="crew">
      {!said ? (
        post.problem ? (
          <div class="stack">
            <RefusalPanel sentence="The hours stand with the service." remedy={post.problem.detail} />
            <Button label="Look again" onPress={look} />
          </div>
        ) : (
          <NoticeLine>Fetching the hours</NoticeLine>
        )
      ) : (
        <div class="stack-wide">
          <p>
            The clock of the garage counts ({said.time_zone}). The lead sees these hours and plans with them.
          </p>
          {known && <Next hours={said.hours} today={said.today} onChange={change} />}
          <Week hours={said.hours} onChange={change} />
          <SingleDays hours={said.hours} today={said.today} onChange={change} />
          {said.typed_by && said.typed_by !== whose && (
            <NoticeLine>Typed last by {fullNameOf(said.typed_by)}.</NoticeLine>
          )}
          {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
          {state === "kept" && <NoticeLine>Kept. The lead can plan with it.</NoticeLine>}
          <MainButton
            label="Keep these hours"
            blocked={state === "changed" ? undefined : "nothing changed"}
            onPress={async () => {
              const kept = await post.send<Said>("PUT", path, said.hours);
              if (kept) {
                setSaid(kept);
                setState("kept");
              }
            }}
          />
        </div>
      )}
    </Screen>
  );
}
