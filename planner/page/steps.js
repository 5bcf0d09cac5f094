// The steps of the work: one at a time under the thumb, and all of them by set-up.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const { data, t, h, store, box, numbered, numbersTo, numbers, say, caution } = pommel;
  const steps = data.steps;
  let at = 0;
  let card, all, bar, slot;

  let sketches = null;

  // How the work is held, as the book shows it. Our own SVG, written by the program into this page.
  function sketch(step) {
    sketches = sketches || pommel.read("sketches") || {};
    const markup = sketches[step.setup];
    if (!markup) return "";
    const frame = h("div", { class: "sketch" });
    frame.innerHTML = markup;
    const svg = frame.querySelector("svg");
    svg.removeAttribute("width");
    svg.removeAttribute("height");
    svg.setAttribute("role", "img");
    svg.setAttribute("aria-label", t("sketch_of", { n: step.setup }));
    return frame;
  }

  // The keys of a step's boxes: one for each that is made.
  const keyed = (step) => numbersTo(step.many).map((number) => numbered(`step ${step.key}`, number));
  const isDone = (step) => keyed(step).every((key) => store.kept.ticks[key]);

  // The part that a step is of, and how many are made where it is not one.
  const whose = (step) => (step.many === 1 ? step.title
    : t("to_make", { title: step.title, n: step.many }));

  // What is typed of one of several made alike, by the keys of the sizes.
  const ownValues = (number) => new Proxy({}, {
    get: (_, key) => store.kept.values[numbered(key, number)],
  });

  // A size that is measured: its limits, and below them a line to type it into for each that is made.
  function sizeRow(row, many) {
    const one = many === 1 ? pommel.mated(row, store.kept.values, numbers) : row;
    return h("div", { class: "size" },
      h("p", {}, h("b", {}, one.feature),
        one.kind ? `, ${t(`kind_${one.kind}`)}: ${one.what}` : `: ${one.what}`),
      h("p", { class: "small" }, one.gauge, one.how ? `; ${one.how}` : "",
        one.to ? `; ${t("to_mate", one.to)}` : ""),
      numbersTo(many).flatMap((number) => typedLine(row, number, many)));
  }

  // A line to type a measured size into, the verdict behind it; of several its number before it, and the
  // limits where they follow from what was measured of that one.
  function typedLine(asDrawn, number, many) {
    const row = pommel.mated(asDrawn, ownValues(number), numbers);
    const place = numbered(row.key, number);
    const kept = store.kept.values[place] || {};
    const verdict = h("output", { class: "verdict" });
    const input = h("input", {
      type: "text", inputmode: numbers.inch ? "text" : "decimal", autocomplete: "off",
      value: kept.value || null, placeholder: numbers.unit,
      "aria-label": t("measured_of", { part: row.title, feature: row.feature })
        + (many > 1 ? `, ${t("number_n", { n: number })}` : ""),
    });
    function judge(save) {
      const text = input.value.trim();
      const found = text ? pommel.judged(text, row, numbers, pommel.words.judge) : null;
      verdict.textContent = found ? found.said : "";
      verdict.className = `verdict ${found ? found.state : ""}`;
      input.setAttribute("aria-invalid", String(Boolean(found && found.state !== "in")));
      if (!save) return;
      if (text) {
        store.kept.values[place] = { value: text, gauge: row.gauge, date: pommel.today() };
      } else delete store.kept.values[place];
      store.save();
    }
    input.addEventListener("input", () => judge(true));
    judge(false);
    return [
      many > 1 && row.to ? h("p", { class: "small" }, `${t("number_n", { n: number })}: ${row.what}; `,
        t("to_mate", row.to)) : "",
      h("div", { class: "typed" }, many > 1 ? h("b", {}, t("number_n", { n: number })) : "", input, verdict)];
  }

  // A box for each that is made, where several are: a step is done when all are through.
  function boxes(step, all) {
    if (step.many === 1) return "";
    return h("fieldset", { class: "each" }, h("legend", {}, t("through")),
      keyed(step).map((key, k) => {
        const number = t("number_n", { n: k + 1 });
        const one = box(key, t("step_done_of", { n: step.number, number }), () => {
          all.querySelector("input").checked = isDone(step);
          count();
          listed(step);
        });
        one.append(h("span", {}, number));
        return one;
      }));
  }

  const warn = (...texts) => {
    const said = texts.filter(Boolean).join(". ");
    return said ? caution(said) : "";
  };

  // To the sheet that a step is made by, and from there back again.
  function drawn(step) {
    if (!step.sheet || !document.getElementById("sheets")) return "";
    return h("button", { type: "button", class: "quiet drawn", onclick: () => {
      pommel.toSheet = { name: step.sheet, step: step.number };
      store.kept.places.draw = 0;
      globalThis.location.hash = "draw";
    } }, t("its_drawing", { name: data.sheets[step.sheet] }));
  }

  // What a step says, all but its box and its caution.
  function told(step) {
    const line = (key, text) => (text
      ? h("p", { class: "line" }, h("span", { class: "what" }, t(key)), " ", text) : "");
    return [
      line("tool", step.tool),
      line("place", step.place),
      line("measure", step.measure),
      step.note ? h("p", { class: "note" }, step.note) : "",
    ];
  }

  // What the letters and the signs stand for that places and sides are told in: of its part or piece.
  function framed(step) {
    const said = data.frames[step.piece ? `${step.part}|${step.piece}` : step.part];
    const told = [step.held, step.align, step.place, step.text].join(" ");
    if (!said || !/(^|\s)[+-][xyz]\b|\bfrom [A-Z]\b/.test(told)) return "";
    return h("details", {}, h("summary", {}, t("axes_of")), ...said.map((one) => h("p", {}, one)));
  }

  function showCard() {
    const step = steps[at];
    const tick = box(keyed(step), t("step_done", { n: step.number }), (on) => {
      if (on && at < steps.length - 1) {
        say(t("step_ticked", { n: step.number }));
        go(at + 1);
      } else showCard();
      listed(step);
    });
    tick.append(h("b", {}, t("done")));
    tick.classList.add("wide");
    card.replaceChildren(
      h("p", { class: "small" }, t("step_of", { n: step.number, of: steps.length }), ` · ${whose(step)}`),
      h("h3", { tabindex: "-1" }, step.text.slice(0, step.head)),
      step.head < step.text.length ? h("p", {}, step.text.slice(step.head + 2)) : "",
      h("p", { class: "held" }, h("b", {}, t("set_up", { n: step.setup })), ` ${step.held}`),
      warn(step.careful, step.caution), sketch(step),
      step.align ? h("p", {}, h("b", {}, t("set_true")), ` ${step.align}`) : "",
      ...told(step), framed(step), drawn(step),
      ...step.sizes.map((row) => sizeRow(row, step.many)), boxes(step, tick));
    slot.replaceChildren(tick);
    here();
    count();
  }

  // The set-up of the step that is shown, in the list of all: told, and open when the list is opened.
  function here() {
    for (const one of all.children) {
      const now = one.dataset.setup === String(steps[at].setup);
      one.open = now;
      if (now) one.setAttribute("aria-current", "step");
      else one.removeAttribute("aria-current");
    }
  }

  function count() {
    const done = steps.filter(isDone).length;
    bar.max = steps.length;
    bar.value = done;
    bar.setAttribute("aria-label", t("steps_done", { done, of: steps.length }));
    bar.nextSibling.textContent = t("steps_done", { done, of: steps.length });
  }

  // Shows another step from its top: heading and caution are in sight, and heard first.
  function go(number) {
    at = Math.max(0, Math.min(steps.length - 1, number));
    store.kept.at = steps[at].key;
    store.save();
    showCard();
    card.querySelector("h3").focus({ preventScroll: true });
    card.scrollIntoView();
  }

  // Brings the box of a step in the list into line with the one on its card.
  function listed(step) {
    const found = all.querySelector(`[data-step="${step.number}"] input[type=checkbox]`);
    if (found) found.checked = isDone(step);
  }

  function listAll() {
    const groups = [];
    for (const step of steps) {
      const last = groups[groups.length - 1];
      if (last && last[0].setup === step.setup) last.push(step);
      else groups.push([step]);
    }
    return groups.map((group) => {
      const first = group[0];
      const rows = group.map((step, k) => h("li", { "data-step": step.number },
        box(keyed(step), t("step_done", { n: step.number }), () => showCard()),
        h("div", {},
          h("p", {}, h("b", {}, `${step.number}. `), step.text),
          ...told(step), warn(step.caution),
          ...step.sizes.flatMap((row) => numbersTo(step.many).map((number) => h("p",
            { class: "print blank" }, t("blank_for", {
              what: row.kind ? `${t(`kind_${row.kind}`)}, ${row.what}` : row.what,
              feature: step.many === 1
                ? row.feature : `${row.feature}, ${t("number_n", { n: number })}` })))),
          h("button", { type: "button", class: "quiet",
            onclick: () => go(steps.indexOf(group[k])) }, t("show_step", { n: step.number })))));
      return h("details", { "data-setup": first.setup },
        h("summary", {}, t("set_up", { n: first.setup }), ` ${whose(first)}: ${first.held}`),
        warn(first.careful),
        first.align ? h("p", {}, h("b", {}, t("set_true")), ` ${first.align}`) : "",
        h("ol", { class: "steps" }, rows));
    });
  }

  // Every run of steps at one part, by part in the order of the book.
  function runs() {
    const found = new Map(data.parts.map((title) => [title, []]));
    steps.forEach((step, n) => {
      if (n && steps[n - 1].title === step.title) return;
      let last = n;
      while (last + 1 < steps.length && steps[last + 1].title === step.title) last += 1;
      if (!found.has(step.title)) found.set(step.title, []);
      const [title, from] = [step.title, step.number];
      found.get(title).push([n, last === n ? t("jump_step", { title, from })
        : t("jump_steps", { title, from, to: steps[last].number })]);
    });
    return [...found].filter(([, list]) => list.length);
  }

  pommel.screens = pommel.screens || {};
  pommel.screens.steps = () => {
    card = h("div", { class: "card" });
    all = h("div", { class: "all" });
    slot = h("div", {});
    bar = h("progress", { value: 0, max: 1 });
    const jump = h("select", { "aria-label": t("jump"), onchange: () => {
      const to = Number(jump.value);
      jump.value = ""; // so that the same may be chosen again
      go(to);
    } },
      h("option", { value: "", disabled: true, selected: true }, t("jump")),
      runs().map(([title, list]) => h("optgroup", { label: title },
        list.map(([n, said]) => h("option", { value: n }, said)))));
    const setups = new Set(steps.map((step) => step.setup)).size;
    const screen = h("div", {},
      h("div", { class: "count" }, bar, h("span", { class: "small" })),
      card,
      h("div", { class: "actions" },
        h("button", { type: "button", onclick: () => go(at - 1) }, t("before")), slot,
        h("button", { type: "button", onclick: () => go(at + 1) }, t("next"))),
      jump, pommel.several(), pommel.names(), caution(data.caution),
      pommel.fold(t("all_steps"), t("set_ups", { n: setups }), false, all),
      ...data.route.map((one) => pommel.table(one, null, true)));
    all.append(...listAll());
    const kept = steps.findIndex((step) => step.key === store.kept.at);
    at = kept < 0 ? 0 : kept;
    if (steps.length) showCard();
    return screen;
  };

  // Every size that was typed and every feature whose step is ticked, as entries of the record.
  pommel.entries = () => {
    const found = [];
    const seen = new Set();
    for (const step of steps) {
      for (const number of numbersTo(step.many)) {
        for (const row of step.sizes) {
          const place = numbered(row.key, number);
          const kept = store.kept.values[place];
          if (!row.sha || !kept || seen.has(place)) continue;
          if (pommel.judged(kept.value, row, numbers, pommel.words.judge).state === "unread") continue;
          seen.add(place);
          found.push({ part: row.part, feature: row.feature, number, sha: row.sha, gauge: kept.gauge,
            date: kept.date, value: pommel.spelled(kept.value, numbers.unit) });
        }
        const date = store.kept.ticks[keyed(step)[number - 1]];
        if (date) found.push(...step.makes.map((one) => ({ ...one, number, date })));
      }
    }
    return found;
  };
})(globalThis.pommel);
