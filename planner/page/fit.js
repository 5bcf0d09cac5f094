// The straight lines through readings and through pips: planner/measuring/correct/fit.py, in a browser.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const SURE = 2.0;
  const ANVIL_OFF_DEG = 2.0;
  const SAME_SIZE = 0.05;
  const MOST_TILT = 0.7;
  const ONE_ANGLE = 1e-6;
  const radians = (deg) => deg * (Math.PI / 180);
  const degrees = (rad) => rad * (180 / Math.PI);
  const sum = (list) => list.reduce((all, one) => all + one, 0);
  const hypot = (a, b) => Math.sqrt(a * a + b * b);

  const estimate = (mm, u_mm) => ({ mm, u_mm, clear: Math.abs(mm) > SURE * u_mm });

  // What chi-square of dof degrees of freedom exceeds once in a hundred (Wilson and Hilferty).
  function chi2Limit(dof) {
    const part = 2.0 / (9.0 * dof);
    return dof * (1.0 - part + 2.3263478740408408 * Math.sqrt(part)) ** 3;
  }

  function scatterOf(chi2, dof) {
    if (dof < 1) return "untested";
    return chi2 > chi2Limit(dof) ? "contradict" : "agree";
  }

  // Least squares of y, each with its u, on x, through the weighted mean; level where all x are one.
  function line(x, y, u) {
    const w = u.map((v) => 1 / v ** 2);
    const mean = (z) => sum(w.map((k, i) => k * z[i])) / sum(w);
    const at = mean(x);
    const level = mean(y);
    const spread = sum(w.map((k, i) => k * (x[i] - at) ** 2));
    const sloped = Math.max(...x) - Math.min(...x) > ONE_ANGLE;
    const cross = sum(w.map((k, i) => k * (x[i] - at) * (y[i] - level)));
    const slope = sloped ? cross / spread : 0.0;
    const off = w.map((k, i) => k * (y[i] - level - slope * (x[i] - at)) ** 2);
    return {
      at, level, slope, chi2: sum(off),
      level_u: 1 / Math.sqrt(sum(w)),
      slope_u: sloped ? 1 / Math.sqrt(spread) : Infinity,
      worst: off.indexOf(Math.max(...off)),
    };
  }

  function lineOf(readings, accuracy) {
    const sines = readings.map((one) => Math.sin(radians(one.angle_deg)));
    return line(sines, readings.map((one) => one.diameter_mm), readings.map(() => accuracy));
  }

  const known = (one) => Number.isFinite(one.slope_u);

  // Weighted mean of slopes and its uncertainty.
  function pooled(lines) {
    const weight = sum(lines.map((one) => one.slope_u ** -2));
    const slope = sum(lines.map((one) => one.slope / one.slope_u ** 2)) / weight;
    return { slope, weight };
  }

  function fitReadings(readings, accuracy, earlier, words) {
    const own = lineOf(readings, accuracy);
    const others = earlier.map((one) => lineOf(one.readings, one.accuracy_mm)).filter(known);
    const lines = [own, ...others].filter(known);
    let [slope, slopeU, radius, skew, correlation] = [0.0, Infinity, null, null, null];
    if (lines.length) {
      const all = pooled(lines);
      slope = all.slope;
      slopeU = 1 / Math.sqrt(all.weight);
    }
    let dof = readings.length - 1;
    let said = words.one_angle;
    if (lines.length) {
      said = words.both;
      const baseU = hypot(own.level_u, own.at * slopeU);
      radius = estimate((own.level - own.at * slope) / 2, baseU / 2);
      skew = estimate(slope / 2, slopeU / 2);
      correlation = (-own.at * slopeU) / baseU;
    }
    if (known(own)) dof -= 1;
    else if (lines.length) said = words.earlier_skew;
    const scatter = scatterOf(own.chi2, dof);
    if (scatter === "contradict") said += words.contradict.replace("{n}", own.worst + 1);
    let anvils = null;
    if (skew && radius) anvils = anvilsOff(readings, accuracy, earlier, skew, radius);
    return {
      mean: estimate(own.level, own.level_u), radius, skew, correlation, chi2: own.chi2, dof,
      chi2_limit: dof ? chi2Limit(dof) : null, scatter, words: said, balls: 1 + others.length, anvils,
    };
  }

  // Whether a ball's own skew differs from that of earlier balls by more than both allow.
  function apart(readings, accuracy, earlier) {
    const own = lineOf(readings, accuracy);
    const others = earlier.map((one) => lineOf(one.readings, one.accuracy_mm)).filter(known);
    if (!others.length || !known(own)) return false;
    const all = pooled(others);
    return (own.slope - all.slope) ** 2 / (own.slope_u ** 2 + 1 / all.weight) > chi2Limit(1);
  }

  function sound(series) {
    const one = lineOf(series.readings, series.accuracy_mm);
    return scatterOf(one.chi2, series.readings.length - (known(one) ? 2 : 1)) !== "contradict";
  }

  function anvilsOff(readings, accuracy, earlier, skew, radius) {
    const off = radians(ANVIL_OFF_DEG);
    const own = lineOf(readings, accuracy);
    const spread = 1 / (2 * skew.u_mm) ** 2;
    let [onSkew, onRadius] = [0.0, 0.0];
    const all = [[readings, accuracy], ...earlier.map((one) => [one.readings, one.accuracy_mm])];
    all.forEach(([rows, u], number) => {
      const fitted = lineOf(rows, u);
      for (const reading of rows) {
        const a = radians(reading.angle_deg);
        const part = (Math.cos(a) * off) ** 2 + 0.75 * (Math.sin(a) * off ** 2) ** 2;
        const slope = (Math.sin(a) - fitted.at) / u ** 2 / spread;
        const level = number === 0 ? 1 / rows.length : 0.0;
        onSkew += slope ** 2 * part;
        onRadius += (level - own.at * slope) ** 2 * part;
      }
    });
    const size = hypot(skew.mm, skew.u_mm);
    let most = 0;
    for (const one of readings) {
      const a = radians(one.angle_deg);
      for (const way of [-off, off]) most = Math.max(most, Math.abs(Math.sin(a + way) - Math.sin(a)));
    }
    const skewU = hypot(skew.u_mm, size * Math.sqrt(onSkew));
    return {
      reading_mm: 2 * size * most,
      skew_u_mm: skewU,
      radius_u_mm: hypot(radius.u_mm, size * Math.sqrt(onRadius)),
      skew_clear: estimate(skew.mm, skewU).clear,
    };
  }

  // A pip's radius without the skew's part.
  function lessSkew(pip, u, skew, skewU) {
    if (!skew && !skewU) return estimate(pip, u);
    const squareU = Math.sqrt(
      4 * (pip * u) ** 2 + 2 * u ** 4 + 4 * (skew * skewU) ** 2 + 2 * skewU ** 4);
    const rest = Math.sqrt(Math.max(pip ** 2 - skew ** 2, 0.0));
    return estimate(rest, Math.max(u, squareU / (2 * Math.max(rest, Math.sqrt(squareU) / 2))));
  }

  function fitPips(given, skew) {
    const h = skew ? Math.max(skew.mm, 0.0) : 0.0;
    let hU = skew ? skew.u_mm : 0.0;
    if (skew && skew.clear && skew.mm < 0) hU = 0.0;
    const pips = [...given].sort((a, b) => a.ball_diameter_mm - b.ball_diameter_mm);
    const p = pips.map((one) => one.diameter_mm / 2);
    const u = pips.map((one) => one.accuracy_mm / 2);
    const mean = line(p.map(() => 0.0), p, u);
    const offset = lessSkew(mean.level, mean.level_u, h, hU);
    const clear = offset.clear && estimate(mean.level - h, hypot(mean.level_u, hU)).clear;
    const radii = pips.map((one) => one.ball_diameter_mm / 2);
    const rests = p.map((one, i) => lessSkew(one, u[i], h, hU));
    const answers = [];
    let [chi2, dof] = [mean.chi2, pips.length - 1];
    if (radii[0] < (1 - SAME_SIZE) * radii[radii.length - 1]) {
      for (let change = 1; change <= pips.length; change += 1) {
        const signed = rests.map((rest, i) => (i < change ? rest.mm : -rest.mm));
        const one = line(radii, signed, rests.map((rest) => rest.u_mm));
        if (Math.abs(one.slope) < MOST_TILT) {
          const square = Math.sqrt(1 - one.slope ** 2);
          const e = ((one.slope * one.at - one.level) / square) * (one.slope < 0 ? -1 : 1);
          answers.push({
            tilt_deg: degrees(Math.asin(Math.abs(one.slope))),
            tilt_u_deg: degrees(one.slope_u / square),
            offset: estimate(e, hypot(one.level_u, one.at * one.slope_u) / square),
            chi2: one.chi2,
          });
        }
      }
    }
    if (answers.length) {
      chi2 = Math.min(...answers.map((one) => one.chi2));
      dof = pips.length - 2;
    }
    const good = answers.filter((one) => one.chi2 <= chi2 + SURE ** 2);
    good.sort((a, b) => a.tilt_deg - b.tilt_deg);
    const scatter = scatterOf(chi2, dof);
    return { offset, clear, skew_known: skew !== null, answers: good, chi2, dof, scatter };
  }

  function fitSizes(sizes) {
    const radii = sizes.map((one) => one.set_mm / 2);
    const errors = sizes.map((one) => (one.diameter_mm - one.set_mm) / 2);
    const differ = Math.max(...radii) - Math.min(...radii) > SAME_SIZE * Math.max(...radii);
    const places = differ ? radii : radii.map(() => 0.0);
    const one = line(places, errors, sizes.map((size) => size.accuracy_mm / 2));
    const dof = sizes.length - (differ ? 2 : 1);
    return {
      zero: estimate(one.level, one.level_u),
      screw: differ ? estimate(one.slope, one.slope_u) : null,
      chi2: one.chi2, dof, scatter: scatterOf(one.chi2, dof),
    };
  }

  Object.assign(pommel, {
    SURE, ANVIL_OFF_DEG, radians, degrees, hypot, estimate, chi2Limit,
    fitReadings, fitPips, fitSizes, apart, sound,
  });
})(globalThis.pommel);
