/** One question a screen: what the first run and joining are made of. */

import type { ComponentChildren, JSX } from "preact";
import type { Problem } from "../wire/core";
import { Button, DemoBanner, MainButton, RefusalPanel } from "./parts";

export interface OneQuestionProps {
  title: string;
  said?: string;
  children: ComponentChildren;
  next: string;
  blocked?: string | undefined;
  busy?: boolean;
  onNext: () => void;
  onBack?: (() => void) | undefined;
  problem?: Problem | null;
  demo?: boolean;
}

export function OneQuestion(props: OneQuestionProps): JSX.Element {
  return (
    <main id="main" class="one-question stack">
      {props.demo && <DemoBanner />}
      <h1>{props.title}</h1>
      {props.said && <p>{props.said}</p>}
      <form
        class="stack"
        onSubmit={(event) => {
          event.preventDefault();
          if (!props.blocked && !props.busy) props.onNext();
        }}
      >
        {props.children}
        {props.problem && <RefusalPanel sentence={props.problem.detail} remedy={props.problem.way_on} />}
        <MainButton
          label={props.busy ? "Asking the service" : props.next}
          blocked={props.busy ? "one moment" : props.blocked}
          onPress={props.onNext}
        />
        {props.onBack && <Button label="Back" kind="quiet" onPress={props.onBack} />}
      </form>
    </main>
  );
}
