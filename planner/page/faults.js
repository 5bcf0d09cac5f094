// What is wrong with what was measured: planner/measuring/correct/faults.py and slips.py, in a browser.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const { fixed, general, radians, degrees, MM_PER_INCH } = pommel;
  const SLIP = 0.2;
  const NEAR = 0.1;
  const CLOSE = 0.02;
  const SLIPS = [
    [2.0, "radii"], [0.5, "doubled"], [MM_PER_INCH, "inches"], [1 / MM_PER_INCH, "millimetres"],
    [10.0, "tenth"], [0.1, "ten_times"],
  ];

  const fill = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name]);
  const fault = (code, where, value, limit, remedy) => ({ code, where, value, limit, remedy });

  function farthest(measured, rig) {
    const part = (SLIP / 2) * measured.wanted_mm;
    return rig.most_mm === null ? part : Math.min(part, rig.most_mm);
  }

  // Where the readings stand: their median; of two, the one nearer the ball's size.
  function middle(measured) {
    const sizes = measured.readings.map((one) => one.diameter_mm).sort((a, b) => a - b);
    const off = (size) => Math.abs(size - measured.wanted_mm);
    if (sizes.length === 2) return off(sizes[1]) < off(sizes[0]) ? sizes[1] : sizes[0];
    const half = Math.floor(sizes.length / 2);
    return (sizes[half] + sizes[Math.floor((sizes.length - 1) / 2)]) / 2;
  }

  function anvilOffStem(ball, stem, anvil) {
    if (!stem) return 0.0;
    const wide = Math.sqrt(ball * ball + anvil * anvil);
    return degrees(Math.asin(Math.min(1.0, stem / wide)) + Math.atan2(anvil, ball));
  }

  function onWall(middleMm, measured, fold) {
    if (measured.wall_mm === null) return false;
    const blank = Math.max(measured.blank_mm, middleMm);
    const [a, radius, half] = [radians(fold), middleMm / 2, measured.anvil_mm / 2];
    const off = radius * Math.sin(a) - half * Math.cos(a);
    const behind = radius * Math.cos(a) + half * Math.sin(a);
    if (off >= blank / 2) return false;
    if (fold <= 0) return true;
    return behind + (blank / 2 - off) / Math.tan(a) >= measured.wall_mm;
  }

  // A length with two digits that stand side by side exchanged, as written in a unit.
  function exchanged(size, inch) {
    const [unit, places] = inch ? [MM_PER_INCH, 5] : [1.0, 4];
    const text = fixed(size / unit, places);
    const [digits, point] = [text.replace(".", ""), text.indexOf(".")];
    const found = [];
    for (let i = 0; i < digits.length - 1; i += 1) {
      const other = digits.slice(0, i) + digits[i + 1] + digits[i] + digits.slice(i + 2);
      found.push(unit * Number(`${other.slice(0, point)}.${other.slice(point)}`));
    }
    return found;
  }

  function slippedAll(measured, numbers, words) {
    const [at, wanted] = [middle(measured), measured.wanted_mm];
    if (Math.abs(at - wanted) / wanted <= SLIP) return [];
    const value = fill(words.median, { size: numbers.exact(at, 4) });
    const ball = numbers.exact(wanted, 4);
    for (const [undone, name] of SLIPS) {
      if (Math.abs((at * undone) / wanted - 1) <= NEAR) {
        const limit = fill(words.near_ball, { ball, slip: words.all_slips[name] });
        return [fault("reading-slip", "readings", value, limit, words.mend_all)];
      }
    }
    const limit = fill(words.within_ball, { ball });
    return [fault("reading-slip", "readings", value, limit, words.unit)];
  }

  function slippedOne(size, measured, rig, numbers, words) {
    const at = middle(measured);
    const gap = Math.min(SLIP * at, 2 * farthest(measured, rig));
    if (Math.abs(size - at) <= gap) return null;
    const limit = fill(words.apart, { gap: numbers.exact(gap, 4), stand: numbers.exact(at, 4) });
    const off = (pair) => Math.abs(pair[0] - at);
    let near = SLIPS.map(([undone, name]) => [size * undone, words.one_slips[name]]);
    near = near.filter((pair) => off(pair) <= gap);
    const swapped = exchanged(size, numbers.inch).map((other) => [other, words.exchanged]);
    near.push(...swapped.filter((pair) => off(pair) <= Math.min(gap, CLOSE * at)));
    if (!near.length) return [limit, words.unit];
    const [meant, what] = near.reduce((best, pair) => (off(pair) < off(best) ? pair : best));
    return [limit, fill(words.meant, { meant: numbers.exact(meant, 4), what })];
  }

  // Everything for which nothing can be fitted, all at once; empty when all is well.
  function problems(measured, rig, numbers, words) {
    const found = [];
    function length(where, value, zero = false) {
      if (Number.isFinite(value) && (value > 0 || (zero && value === 0))) return;
      const limit = zero ? words.finite_zero : words.finite;
      found.push(fault("out-of-range", where, numbers.exact(value, 4), limit, words.with_unit));
    }
    length("accuracy", measured.accuracy_mm);
    length("wanted diameter", measured.wanted_mm);
    length("stem diameter", measured.stem_mm, true);
    length("anvil diameter", measured.anvil_mm, true);
    for (const [dial, step] of [["tip", rig.tip_mm_per_division], ["slide", rig.slide_mm_per_division]]) {
      length(`${dial} dial, one division`, step === null ? 1.0 : step);
    }
    measured.pips.forEach((pip, n) => {
      const where = `pip ${n + 1}`;
      length(where, pip.diameter_mm, true);
      length(`${where}: accuracy`, pip.accuracy_mm);
      length(`${where}: ball diameter`, pip.ball_diameter_mm);
      if (pip.diameter_mm >= pip.ball_diameter_mm && pip.ball_diameter_mm > 0) {
        const limit = fill(words.less_ball, { ball: numbers.exact(pip.ball_diameter_mm, 4) });
        const value = numbers.exact(pip.diameter_mm, 4);
        found.push(fault("out-of-range", where, value, limit, words.again));
      }
    });
    measured.sizes.forEach((size, n) => {
      const where = `size ${n + 1}`;
      length(`${where}: set`, size.set_mm);
      length(where, size.diameter_mm);
      length(`${where}: accuracy`, size.accuracy_mm);
      if (size.set_mm > 0 && Math.abs(size.diameter_mm - size.set_mm) > SLIP * size.set_mm) {
        const limit = fill(words.far_set, { set: numbers.exact(size.set_mm, 4) });
        const value = numbers.exact(size.diameter_mm, 4);
        found.push(fault("reading-slip", where, value, limit, words.digit_radius));
      }
    });
    if (!measured.readings.length && !measured.pips.length && !measured.sizes.length) {
      found.push(fault("no-readings", "readings", "none", words.need, words.across));
    }
    measured.readings.forEach((reading, n) => {
      length(`reading ${n + 1}`, reading.diameter_mm);
      if (!(reading.angle_deg >= 0 && reading.angle_deg <= 180)) {
        const value = fill(words.angle, { angle: general(reading.angle_deg) });
        found.push(fault("reading-angle", `reading ${n + 1}`, value, words.nose_to, words.equator));
      }
    });
    if (found.length || !measured.readings.length) return found;
    return misplaced(measured, rig, numbers, words);
  }

  function misplaced(measured, rig, numbers, words) {
    const all = slippedAll(measured, numbers, words);
    if (all.length) return all;
    const at = middle(measured);
    if (measured.stem_mm >= at) {
      const limit = fill(words.less_stem, { ball: numbers.exact(at, 4) });
      const value = numbers.exact(measured.stem_mm, 4);
      return [fault("stem-size", "stem diameter", value, limit, words.unit)];
    }
    const stem = anvilOffStem(at, measured.stem_mm, measured.anvil_mm);
    const off = (pip) => Math.abs(pip.ball_diameter_mm - at);
    let pip = null;
    for (const one of measured.pips) if (pip === null || off(one) < off(pip)) pip = one;
    const found = [];
    measured.readings.forEach((reading, n) => {
      const fold = Math.min(reading.angle_deg, 180 - reading.angle_deg);
      const where = `reading ${n + 1}`;
      const value = fill(words.at_angle,
        { size: numbers.exact(reading.diameter_mm, 4), angle: general(reading.angle_deg) });
      const slip = slippedOne(reading.diameter_mm, measured, rig, numbers, words);
      if (slip) found.push(fault("reading-slip", where, value, ...slip));
      if (measured.stem_mm && fold <= stem + 1e-9) {
        const limit = fill(words.on_stem, { low: fixed(stem, 1), high: fixed(180 - stem, 1) });
        found.push(fault("on-the-stem", where, value, limit, words.nearer));
      } else if (pip && Math.tan(radians(fold) / 2) < pip.diameter_mm / pip.ball_diameter_mm) {
        found.push(fault("on-the-pip", where, value, words.on_pip, words.beside));
      } else if (onWall(at, measured, fold)) {
        found.push(fault("on-the-wall", where, value, words.on_wall, words.nearer_wall));
      }
    });
    return found;
  }

  Object.assign(pommel, { fill, fault, farthest, problems });
})(globalThis.pommel);
