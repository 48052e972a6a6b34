import { Route, Switch } from "wouter-preact";
import { lazyScreen } from "./lazyScreen";

const Start = lazyScreen(() => import("./screens/Start"));

export function App() {
  return (
    <Switch>
      <Route path="/">
        <Start />
      </Route>
      <Route>
        <main>
          <h1>No such page</h1>
          <p>
            <a href="/">Back to the start</a>
          </p>
        </main>
      </Route>
    </Switch>
  );
}
