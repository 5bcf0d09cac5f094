// Sizes as measured and features as made: judged, and written as an addition to made.toml.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const READ_TO_MM = 1e-6;

  // How far a size is out of its limits, mm: over the greatest positive, under the least negative.
  function outMm(value, low, high) {
    if (value > high + READ_TO_MM) return value - high;
    if (value < low - READ_TO_MM) return value - low;
    return 0.0;
  }

  // What is said of a measured size: no length, in its limits, or by how much out. row: what is printed,
  // reads_mm which that is, low_mm and high_mm of the drawing. Where the gauge is read more coarsely than
  // the drawing asks, a size between the two is in doubt, and neither good nor bad. words: of judge.
  function judged(text, row, numbers, words) {
    const mm = pommel.lengthMm(text, numbers.unit);
    if (mm === null || mm < (row.sha ? 0.001 : 0) || mm > 20000) return { state: "unread", said: words.unread };
    const out = outMm(mm, ...row.reads_mm);
    if (!out) return { state: "in", said: words.in, mm };
    const by = numbers.micrometer(Math.abs(out));
    const state = outMm(mm, row.low_mm, row.high_mm) ? "out" : "doubt";
    const saying = words[state === "doubt" ? "doubt" : out > 0 ? "over" : "under"];
    const said = pommel.fill(saying, {
      by, limits: row.what, drawn: numbers.between(row.low_mm, row.high_mm),
    });
    return { state, said, mm };
  }

  // A shaft's row by its hole as that was typed: what it must come to follows from it, as pommel record
  // has it once both are recorded. values: what was typed, by key.
  function mated(row, values, numbers) {
    const one = row.mate;
    const kept = one && values[one.key];
    const mm = kept ? pommel.lengthMm(kept.value, numbers.unit) : null;
    if (mm === null || outMm(mm, one.from_mm, one.to_mm)) return row;
    const [low, high] = [mm - one.most_mm, mm - one.least_mm];
    return { ...row, what: numbers.between(low, high), low_mm: low, high_mm: high, reads_mm: [low, high],
      to: { feature: one.feature, size: numbers.micrometer(mm) } };
  }

  const quoted = (text) => JSON.stringify(String(text));

  // made.toml with these entries: sizes {part, feature, value, gauge, date, sha}, done {part, feature, ...};
  // number: of one of several made alike.
  function madeToml(job, entries) {
    const lines = [`# Measured and made at the machine; for: pommel record ${job.file} --merge THIS-FILE`];
    lines.push("format = 1");
    for (const one of entries) {
      lines.push("", `[[${one.value === undefined ? "done" : "size"}]]`);
      lines.push(`part = ${quoted(one.part)}`, `feature = ${quoted(one.feature)}`);
      if (one.number > 1) lines.push(`number = ${one.number}`);
      if (one.value !== undefined) lines.push(`value = ${quoted(one.value)}`);
      if (one.gauge) lines.push(`gauge = ${quoted(one.gauge)}`);
      if (one.date) lines.push(`date = ${one.date}`);
      lines.push(`feature_sha256 = ${quoted(one.sha)}`, `job_file_sha256 = ${quoted(job.sha256)}`);
    }
    return lines.join("\n") + "\n";
  }

  Object.assign(pommel, { outMm, judged, mated, madeToml });
})(globalThis.pommel);
