// A turned ball: how it is turned, what was measured on it, and what to move.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const { data, t, h, store, numbered, numbersTo, numbers, words } = pommel;
  const FIELDS = {
    reading: ["angle", "diameter"],
    pip: ["ball_diameter", "diameter", "accuracy"],
    size: ["set", "diameter", "accuracy"],
  };

  const fresh = (ball) => ({
    accuracy: "", anvil: "", wall: "", before_nose: false, arrangement: "across",
    reading: ball.angles_deg.map((angle) => ({ angle: String(angle), diameter: "" })),
    pip: [], size: [],
  });

  const blank = (row) => Object.entries(row).every(
    ([key, value]) => key === "angle" || String(value).trim() === "");

  // What is filled in of what was typed: rows left blank are none.
  function filled(typed) {
    const found = { ...typed };
    for (const name of Object.keys(FIELDS)) found[name] = typed[name].filter((row) => !blank(row));
    return found;
  }

  function field(holder, key, label, save) {
    const input = h("input", {
      type: "text", inputmode: numbers.inch && key !== "angle" ? "text" : "decimal",
      autocomplete: "off", value: holder[key] || null, "aria-label": label,
      oninput: () => {
        holder[key] = input.value.trim();
        save();
      },
    });
    return h("label", { class: "field" }, h("span", {}, label), input);
  }

  function rows(typed, name, save) {
    const place = h("div", { class: "rows" });
    function show() {
      place.replaceChildren(
        h("h4", {}, t(`${name}s`)),
        ...typed[name].map((row, n) => h("fieldset", { class: "row" },
          h("legend", {}, t(`${name}_n`, { n: n + 1 })),
          FIELDS[name].map((key) => field(row, key, t(`${name}_${key}`, { unit: numbers.unit }), save)),
          h("button", { type: "button", class: "remove", "aria-label": t(`${name}_out`, { n: n + 1 }),
            onclick: () => {
              typed[name].splice(n, 1);
              save();
              show();
            } }, "\u2715"))),
        h("button", { type: "button", onclick: () => {
          typed[name].push(Object.fromEntries(FIELDS[name].map((key) => [key, ""])));
          save();
          show();
        } }, t(`${name}_more`)));
    }
    show();
    return place;
  }

  function faults(list, heading) {
    return h("div", { class: "told bad" }, h("h4", {}, heading), h("ul", {}, list.map((one) => h("li", {},
      h("b", {}, `[${one.code}] `), `${one.where}: ${one.value ? `${one.value}: ` : ""}${one.limit}. `,
      one.remedy, "."))));
  }

  // What the command prints, as elements. Nothing is kept of earlier balls here.
  function answer(typed, ball) {
    const read = pommel.given(filled(typed), ball, data.rig, numbers.unit, words.readings);
    if (read.faults.length) return faults(read.faults, t("refused"));
    const earlier = { series: [], pips: [], sizes: [] };
    const found = pommel.correct(read.measured, read.rig, earlier, numbers.inch, words.correct);
    if (found.refused.length) return faults(found.refused, t("refused"));
    const heading = found.standing ? words.correct.told.standing[found.standing] : t("no_tolerance");
    const good = !found.act && !found.odd.length;
    return h("div", { class: `told ${good ? "good" : "bad"}` },
      h("h4", {}, `${heading}. ${t("verdict", { verdict: t(found.verdict) })}`),
      found.odd.length ? faults(found.odd, t("look_first")) : "",
      pommel.table({ title: t("to_do", { unit: numbers.unit }), notes: [], rows: found.advice,
        heads: [t("what"), t("error"), t("move"), t("by"), t("may_remain"), t("why")] }),
      pommel.table({ title: t("determine", { unit: numbers.unit }), notes: found.notes, rows: found.fit,
        heads: [t("what"), t("value"), t("uncertainty")] }),
      h("p", { class: "note" }, t("alone_here")));
  }

  function measuring(ball, number) {
    const key = numbered(ball.name, number);
    const kept = store.kept.balls[key];
    const typed = { ...fresh(ball), ...(kept && typeof kept === "object" ? kept : {}) };
    const save = () => {
      store.kept.balls[key] = typed;
      store.save();
    };
    const place = h("div", { "aria-live": "polite" });
    return h("div", { class: "measuring" },
      h("p", {}, t("measure_help", { angles: ball.angles_deg.join(", ") })),
      h("div", { class: "row" },
        field(typed, "accuracy", t("accuracy", { unit: numbers.unit }), save),
        field(typed, "anvil", t("anvil", { usual: numbers.size(pommel.usualAnvilMm(numbers.unit)) }), save),
        field(typed, "wall", t("wall", { unit: numbers.unit }), save)),
      rows(typed, "reading", save),
      h("details", {}, h("summary", {}, t("more_measured")),
        rows(typed, "pip", save), rows(typed, "size", save),
        h("label", { class: "part" }, h("input", { type: "checkbox", checked: typed.before_nose,
          onchange: (event) => {
            typed.before_nose = event.target.checked;
            save();
          } }), h("span", {}, t("before_nose"))),
        h("label", { class: "part" }, h("input", { type: "checkbox",
          checked: typed.arrangement === "upright", onchange: (event) => {
            typed.arrangement = event.target.checked ? "upright" : "across";
            save();
          } }), h("span", {}, t("upright")))),
      h("div", { class: "pair" },
        h("button", { type: "button", class: "main", onclick: () => {
          place.replaceChildren(answer(typed, ball));
          place.firstChild.setAttribute("tabindex", "-1");
          place.firstChild.focus({ preventScroll: true }); // of what is longer than a screen its middle
          place.firstChild.scrollIntoView();
        } }, t("work_out")),
        h("button", { type: "button", onclick: () => pommel.download(
          `${ball.name}-${ball.many > 1 ? `${number}-` : ""}readings.toml`,
          pommel.readingsToml(filled(typed), ball, numbers.unit, ball.many > 1 ? number : null)) }, t("save_readings"))),
      place);
  }

  // The radius of a hollow by its mouth and its depth, of half a mouth a and a depth h: (a a + h h) / 2h.
  function capMm(mouthMm, deepMm) {
    return mouthMm > 0 && deepMm > 0 ? ((mouthMm / 2) ** 2 + deepMm ** 2) / (2 * deepMm) : null;
  }

  // What was measured of a hollow and what it comes to, judged where the job gives it a tolerance.
  function hollow(ball, number) {
    const key = numbered(ball.name, number);
    const kept = store.kept.balls[key];
    const typed = { mouth: "", deep: "", ...(kept && typeof kept === "object" ? kept : {}) };
    const verdict = h("output", { class: "verdict" });
    const tell = () => {
      const given = ["mouth", "deep"].map((key) => typed[key] && pommel.lengthMm(typed[key], numbers.unit));
      const mm = given.every(Boolean) ? capMm(...given) : null;
      const wrong = ["mouth", "deep"].some((key, k) => typed[key] && !(given[k] > 0));
      const found = mm !== null && ball.cap.judged
        ? pommel.judged(`${mm} mm`, ball.cap, numbers, words.judge) : null;
      verdict.textContent = wrong ? words.judge.unread : mm === null ? ""
        : t("hollow_radius", { radius: numbers.micrometer(mm), wanted: ball.cap.what })
          + (found ? `. ${found.said}` : "");
      verdict.className = `verdict ${found ? found.state : ""}`;
    };
    tell();
    const save = () => {
      store.kept.balls[key] = typed;
      store.save();
      tell();
    };
    return h("div", { class: "cap" },
      h("div", { class: "row" },
        field(typed, "mouth", t("hollow_mouth", { unit: numbers.unit }), save),
        field(typed, "deep", t("hollow_deep", { unit: numbers.unit }), save)),
      verdict);
  }

  pommel.capMm = capMm;
  pommel.screens = pommel.screens || {};
  pommel.screens.ball = () => {
    const place = h("div", {});
    const which = h("select", { "aria-label": t("which_ball"), onchange: () => show() },
      data.balls.map((ball, n) => h("option", { value: n }, ball.title)));
    const one = h("select", { onchange: () => {
      store.kept.numbers[data.balls[Number(which.value)].name] = Number(one.value);
      show();
    } });
    // Of several made alike each has ticks and readings of its own: the one that is shown.
    function chosen(ball) {
      const number = Math.min(Number(store.kept.numbers[ball.name]) || 1, ball.many);
      one.hidden = ball.many === 1;
      one.setAttribute("aria-label", t("which_number", { n: ball.many }));
      one.replaceChildren(...numbersTo(ball.many).map((n) => h("option", { value: n },
        t("number_of", { n, of: ball.many }))));
      one.value = String(number);
      return number;
    }
    function show() {
      const ball = data.balls[Number(which.value)];
      const number = chosen(ball);
      const title = ball.many === 1 ? ball.called : `${ball.called}, ${t("number_n", { n: number })}`;
      store.kept.ball = ball.name;
      store.save();
      const passes = ball.tables.filter((one) => one.large); // the first are made first
      const said = ball.tables.map((one, n) => pommel.table(one,
        one.ticked || one.large ? numbered(`turn ${ball.name} ${n}`, number) : null, one !== passes[0]));
      const first = said.filter((_, n) => ball.tables[n].large);
      place.replaceChildren(ball.intro ? h("p", {}, ball.intro) : "",
        ...first, ...said.filter((one) => !first.includes(one)),
        h("h3", {}, t("measured_ball", { title })),
        ball.across ? measuring(ball, number) : hollow(ball, number));
    }
    const kept = data.balls.findIndex((ball) => ball.name === store.kept.ball);
    if (!data.balls.length) return h("p", {}, t("no_balls"));
    which.value = String(Math.max(0, kept));
    show();
    return h("div", {}, which, one, place);
  };
})(globalThis.pommel);
