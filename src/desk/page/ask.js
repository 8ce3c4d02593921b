// Asks the server: one question at a time, and of those that came meanwhile only the last.

/** The reply as JSON; throws a list of faults. */
export async function ask(path, body, signal) {
  const send = () =>
    fetch(path, {
      method: body === undefined ? "GET" : "POST",
      headers: body === undefined ? {} : { "content-type": "application/json" },
      body,
      signal,
    });
  let reply;
  try {
    // a connection that the server has let go meanwhile is opened anew
    reply = await send().catch((error) => {
      if (error.name === "AbortError") throw error;
      return send();
    });
  } catch (error) {
    if (error.name === "AbortError") throw error;
    throw [{ what: "the desk does not answer", expected: "", mend: "start it again: stillair desk" }];
  }
  const told = await reply.json();
  if (!reply.ok) throw Object.assign(told.faults ?? [], { status: reply.status });
  return told;
}

/** Keeps answers in step with the state. */
export class Asker {
  constructor(drawn, refused) {
    this.drawn = drawn;
    this.refused = refused;
    this.waiting = null;
    this.running = null;
  }

  /**
   * Asks for a state; `goesOn`: the hand still moves, so that what runs is let run to be seen. With
   * `coarse` a coarse answer comes first, and the close one when nothing newer is asked.
   */
  want(text, since, goesOn, coarse) {
    this.waiting = { text, since, coarse, again: false };
    // of what runs again something has been seen
    if (this.running && (!goesOn || this.running.again)) this.running.abort();
    if (!this.running) this.go();
  }

  get idle() {
    return !this.running && !this.waiting;
  }

  /** Sends what waits; its answer, or why there is none. */
  send() {
    const asked = this.waiting;
    this.waiting = null;
    this.running = Object.assign(new AbortController(), { again: asked.again });
    const answer = ask(asked.coarse ? "answer/coarse" : "answer", asked.text, this.running.signal);
    return answer.then((told) => ({ told, asked }), (wrong) => ({ wrong, asked }));
  }

  async go() {
    let coming = this.send();
    while (coming) {
      const { told, wrong, asked } = await coming;
      this.running = null;
      if (told && asked.coarse) this.waiting ??= { ...asked, coarse: false, again: true };
      // the server is at the next one while this one is drawn
      coming = this.waiting ? this.send() : null;
      if (told) this.drawn(told, asked);
      else if (Array.isArray(wrong)) this.refused(wrong);
      else if (wrong.name !== "AbortError") throw wrong;
    }
  }
}
