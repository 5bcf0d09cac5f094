// What was typed of a measured ball, to what the correction takes: planner/measuring/readings.py.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const { fill, fault, lengthMm } = pommel;

  // The micrometer's anvils where nothing is said: 6.4 mm, or a quarter of an inch.
  const usualAnvilMm = (unit) => (unit === "in" ? 6.35 : 6.4);

  // given: texts as typed (accuracy, anvil, wall, reading[], pip[], size[], before_nose, arrangement).
  // ball: of the page's data. Returns {faults} or {measured, rig}. words: of the readings.
  function given(typed, ball, rig, unit, words) {
    const numbers = new pommel.Numbers(unit === "in");
    const faults = [];
    function length(where, text, low, high, missing = null) {
      if (String(text ?? "").trim() === "") {
        if (missing !== undefined && missing !== null) return missing.value;
        faults.push(fault("missing-key", where, "", words.missing, words.fill_in));
        return NaN;
      }
      const mm = lengthMm(text, unit);
      if (mm === null) {
        const such = unit === "in" ? words.such_as_inch : words.such_as;
        faults.push(fault("not-a-length", where, String(text), words.no_length, such));
        return NaN;
      }
      if (mm >= low && mm <= high) return mm;
      const limit = fill(words.range, {
        low: numbers.plain.size(low), high: numbers.size(high),
        this: Math.abs(mm) < 1e7 ? numbers.size(mm) : words.far_off,
      });
      faults.push(fault("out-of-range", where, String(text), limit,
        otherUnit(String(text).trim(), low, high) || (mm > 0 ? words.check_unit : words.above_zero)));
      return NaN;
    }
    // The remedy for a length without a unit that would do in the other one; "" for any other.
    function otherUnit(text, low, high) {
      const [other, word] = unit === "in" ? ["mm", words.millimetres] : ["in", words.inches];
      const meant = /\d$/.test(text) ? lengthMm(text, other) : null;
      const would = meant !== null && meant > 0 && low > 0 && low <= meant && meant <= high;
      return would ? fill(words.other_unit, { word, text, other }) : "";
    }
    function angle(where, text) {
      const value = Number(String(text).replace(",", "."));
      if (String(text).trim() !== "" && Number.isFinite(value)) return value;
      faults.push(fault("wrong-value", where, String(text), words.no_angle, words.angle_such_as));
      return NaN;
    }
    const row = (name, n) => `${name} ${n + 1}`;
    const measured = {
      accuracy_mm: length("accuracy", typed.accuracy, 0.00001, 1),
      anvil_mm: length("anvil", typed.anvil, 0, 50, { value: usualAnvilMm(unit) }),
      wall_mm: length("wall", typed.wall, 0, 2000, { value: null }),
      readings: typed.reading.map((one, n) => ({
        angle_deg: angle(row("reading", n), one.angle),
        diameter_mm: length(row("reading", n), one.diameter, 0.001, 2000),
      })),
      pips: typed.pip.map((one, n) => ({
        diameter_mm: length(row("pip", n), one.diameter, 0, 100),
        accuracy_mm: length(`${row("pip", n)}: accuracy`, one.accuracy, 0.0001, 10),
        ball_diameter_mm: length(`${row("pip", n)}: ball`, one.ball_diameter, 0.5, 1000),
      })),
      sizes: typed.size.map((one, n) => ({
        set_mm: length(`${row("size", n)}: set`, one.set, 0.5, 1000),
        diameter_mm: length(row("size", n), one.diameter, 0.001, 2000),
        accuracy_mm: length(`${row("size", n)}: accuracy`, one.accuracy, 0.00001, 10),
      })),
      before_nose: Boolean(typed.before_nose),
      wanted_mm: ball.wanted_mm, stem_mm: ball.stem_mm, tolerance_mm: ball.tolerance_mm,
      blank_mm: ball.blank_mm,
    };
    if (faults.length) return { faults };
    if (ball.half) {
      measured.readings.forEach((one, n) => {
        if (one.angle_deg === 90.0) return;
        const value = fill(words.angle, { angle: pommel.general(one.angle_deg) });
        faults.push(fault("reading-angle", row("reading", n), value, words.half, words.half_then));
      });
    }
    if (faults.length) return { faults };
    return { faults, measured, rig: { ...rig, arrangement: typed.arrangement || "across" } };
  }

  // The same as a readings file, for pommel correct; number: of one of several turned alike.
  function readingsToml(typed, ball, unit, number = null) {
    const text = (one) => JSON.stringify(pommel.spelled(one, unit));
    const plain = (one) => String(Number(String(one).replace(",", ".")));
    const lines = ["format = 1", `ball = ${JSON.stringify(ball.name)}`];
    if (number !== null) lines.push(`piece = "${number}"`);
    lines.push(`accuracy = ${text(typed.accuracy)}`);
    for (const key of ["anvil", "wall"]) if (typed[key]) lines.push(`${key} = ${text(typed[key])}`);
    if (typed.before_nose) lines.push("before_nose = true");
    if (typed.arrangement === "upright") lines.push('arrangement = "upright"');
    for (const one of typed.reading) {
      lines.push("", "[[reading]]", `angle = ${plain(one.angle)}`, `diameter = ${text(one.diameter)}`);
    }
    for (const [name, keys] of [["pip", ["ball_diameter", "diameter", "accuracy"]],
      ["size", ["set", "diameter", "accuracy"]]]) {
      for (const one of typed[name]) {
        lines.push("", `[[${name}]]`, ...keys.map((key) => `${key} = ${text(one[key])}`));
      }
    }
    return lines.join("\n") + "\n";
  }

  Object.assign(pommel, { given, readingsToml, usualAnvilMm });
})(globalThis.pommel);
