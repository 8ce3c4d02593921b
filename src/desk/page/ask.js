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

  /** Asks for a state; `goesOn`: the hand still moves, so that what runs is let run to be seen. */
  want(text, since, goesOn) {
    this.waiting = { text, since };
    if (this.running && !goesOn) this.running.abort();
    if (!this.running) this.go();
  }

  get idle() {
    return !this.running && !this.waiting;
  }

  async go() {
    while (this.waiting) {
      const { text, since } = this.waiting;
      this.waiting = null;
      this.running = new AbortController();
      try {
        const answer = await ask("answer", text, this.running.signal);
        this.running = null;
        this.drawn(answer, text, since);
      } catch (wrong) {
        this.running = null;
        if (wrong.name === "AbortError") continue;
        if (!Array.isArray(wrong)) throw wrong;
        this.refused(wrong, text);
      }
    }
  }
}
