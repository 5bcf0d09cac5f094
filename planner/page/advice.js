// From the fits to what is moved, and how it is told: advice.py, within.py, odd.py and the sheet.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const { SURE, ANVIL_OFF_DEG, estimate, fill, fixed, general, round, radians, fault } = pommel;
  const [NEAR_A_LINE, SHARE_PLACES] = [0.05, 5];

  function advise(words, what, error, doubt, move, step, reason, farthest = null, atTip = 1.0) {
    const [size, remains] = [Math.abs(error.mm), SURE * error.u_mm];
    const far = farthest !== null && size * atTip > farthest && error.clear;
    if (far) doubt = doubt || words.far;
    if (!doubt && !error.clear) doubt = words.unclear;
    const one = {
      what, error, justified: !doubt, move: "", amount_mm: 0.0, divisions: null,
      remains_mm: size + remains, reason: `${words.none_justified} ${doubt}`,
      sign_known: true, over_mm: null, far: false,
    };
    if (doubt) return { ...one, far };
    const divisions = step ? size / step : null;
    return { ...one, move, amount_mm: size, divisions, remains_mm: remains, reason };
  }

  function skewAdvice(words, fit, rig, doubt, farthest) {
    if (!fit.skew) {
      return {
        what: "skew", error: null, justified: false, move: "", amount_mm: 0.0, divisions: null,
        remains_mm: null, reason: `${words.none_justified} ${doubt || fit.words}`,
        sign_known: true, over_mm: null, far: false,
      };
    }
    if (!doubt && fit.skew.clear && fit.anvils && !fit.anvils.skew_clear) doubt = words.anvil_doubt;
    const way = (fit.skew.mm > 0) !== rig.other_side ? "over" : "under";
    const { move, reason } = words.skew[rig.arrangement][way];
    const step = rig.arrangement === "upright" ? rig.slide_mm_per_division : null;
    return advise(words, "skew", fit.skew, doubt, move, step, reason, farthest);
  }

  function sizeAdvice(words, fit, rig, wanted, mended, doubt, farthest, standing) {
    let error = estimate((fit.mean.mm - wanted) / 2, fit.mean.u_mm / 2);
    let least = error;
    if (mended && fit.radius && fit.skew) {
      error = least = estimate(fit.radius.mm - wanted / 2, fit.radius.u_mm);
      if (fit.skew.mm < 0) {
        const shared = 2 * (fit.correlation || 0.0) * fit.radius.u_mm * fit.skew.u_mm;
        const square = fit.radius.u_mm ** 2 + fit.skew.u_mm ** 2 + shared;
        least = estimate(error.mm + fit.skew.mm, Math.sqrt(Math.max(square, 0.0)));
      }
    }
    const { move, reason } = error.mm < 0 ? words.size.small : words.size.large;
    const one = advise(words, "size", error, doubt, move, rig.tip_mm_per_division, reason, farthest);
    if (doubt || one.far || !(least.mm < 0 && least.clear)) return one;
    if (standing && !standing.small) return one;
    return { ...one, reason: `${one.reason} ${words.undersize}` };
  }

  function squareAdvice(words, pips, rig, doubt, farthest, largest) {
    const [least, most] = [pips.answers[0], pips.answers[pips.answers.length - 1]];
    const slopes = [least.tilt_deg, least.tilt_u_deg, most.tilt_deg].map(
      (x) => rig.over_mm * Math.tan(radians(x)));
    if (!doubt && most.tilt_deg - least.tilt_deg > SURE * least.tilt_u_deg) doubt = words.more_tilts;
    const { move, reason } = words.square[rig.arrangement];
    const slope = estimate(slopes[0], slopes[1]);
    const atNose = largest / 2 / rig.over_mm;
    const one = advise(words, "squareness", slope, doubt, move, null, reason + words.square_then,
      farthest, atNose);
    const remains = (one.remains_mm || 0.0) + slopes[2] - slopes[0];
    return { ...one, remains_mm: remains, sign_known: false, over_mm: rig.over_mm };
  }

  function offsetAdvice(words, pips, rig, doubt, farthest) {
    if (!doubt && !pips.clear) doubt = words.pip_unclear;
    const leaning = pips.answers.every((one) => one.tilt_deg > SURE * one.tilt_u_deg);
    if (!doubt && pips.answers.length && leaning) doubt = words.pip_changes;
    const reason = words.pip_way + (pips.skew_known ? "" : words.pip_skew);
    const slide = rig.arrangement === "across";
    const step = slide ? rig.slide_mm_per_division : null;
    const move = words.offset[rig.arrangement];
    const one = advise(words, "offset", pips.offset, doubt, move, step, reason, farthest);
    return { ...one, sign_known: false };
  }

  function dialAdvice(words, sizes, rig, doubt, farthest) {
    const reason = sizes.zero.mm < 0 ? words.zero.smaller : words.zero.larger;
    const step = rig.tip_mm_per_division;
    const zero = advise(words, "zero", sizes.zero, doubt, words.zero.move, step, reason, farthest);
    if (sizes.screw === null) return [zero];
    const per = estimate(rig.over_mm * sizes.screw.mm, rig.over_mm * sizes.screw.u_mm);
    const screw = advise(words, "screw", per, doubt, words.screw.move, null, words.screw.reason);
    return [{ ...screw, over_mm: rig.over_mm }, zero];
  }

  // The diameter beside the stem and at the equator; where no skew is known, the one read.
  function ends(fit, measured) {
    if (!fit.skew || !fit.radius) return [fit.mean];
    return [Math.min(1.0, measured.stem_mm / measured.wanted_mm), 1.0].map((sine) => {
      const shared = 2 * sine * (fit.correlation || 0.0) * fit.radius.u_mm * fit.skew.u_mm;
      const square = fit.radius.u_mm ** 2 + (sine * fit.skew.u_mm) ** 2 + shared;
      return estimate(2 * (fit.radius.mm + sine * fit.skew.mm),
        2 * Math.sqrt(Math.max(square, 0.0)));
    });
  }

  function toleranced(fit, measured) {
    const tolerance = measured.tolerance_mm;
    if (tolerance === null) return null;
    const errors = ends(fit, measured).map((one) => estimate(one.mm - measured.wanted_mm, one.u_mm));
    const over = (one) => Math.abs(one.mm) + SURE * one.u_mm;
    let outside = errors.filter((one) => Math.abs(one.mm) - SURE * one.u_mm > tolerance);
    let standing = outside.length ? "outside" : "cannot be told";
    if (errors.every((one) => over(one) <= tolerance)) standing = "within";
    if (fit.scatter === "contradict") [standing, outside] = ["cannot be told", []];
    const worst = errors.reduce((best, one) => (over(one) > over(best) ? one : best));
    return { standing, worst, small: outside.some((one) => one.mm < 0) };
  }

  // What to move after a ball was turned and measured; earlier: at the same setting.
  function corrected(measured, rig, earlier, words) {
    const far = pommel.farthest(measured, rig);
    let [fit, pips, advice, standing, sizes] = [null, null, [], null, null];
    const differ = [];
    if (measured.readings.length) {
      let series = earlier.series.filter(pommel.sound);
      if (pommel.apart(measured.readings, measured.accuracy_mm, series)) {
        differ.push("readings");
        series = [];
      }
      fit = pommel.fitReadings(measured.readings, measured.accuracy_mm, series, words.fit);
      standing = toleranced(fit, measured);
      let doubt = fit.scatter === "contradict" ? words.readings_contradict : "";
      if (standing && !doubt && standing.standing !== "outside") {
        doubt = standing.standing === "within" ? words.within : words.untold;
      }
      const skew = skewAdvice(words, fit, rig, doubt, far);
      const mended = skew.justified;
      advice = [skew, sizeAdvice(words, fit, rig, measured.wanted_mm, mended, doubt, far, standing)];
    }
    if (measured.pips.length) {
      const trusted = fit && fit.scatter !== "contradict" ? fit.skew : null;
      const held = measured.before_nose ? estimate(0.0, 0.0) : trusted;
      pips = pommel.fitPips([...measured.pips, ...earlier.pips], held);
      if (pips.scatter === "contradict" && earlier.pips.length) {
        pips = pommel.fitPips(measured.pips, held);
        if (pips.scatter !== "contradict") differ.push("pips");
      }
      const doubt = pips.scatter === "contradict" ? words.pips_contradict : "";
      const middle = Math.floor(advice.length / 2);
      advice.splice(middle, 0, offsetAdvice(words, pips, rig, doubt, far));
      const all = [...measured.pips, ...earlier.pips].map((one) => one.ball_diameter_mm);
      if (pips.answers.length) {
        advice.unshift(squareAdvice(words, pips, rig, doubt, far, Math.max(...all)));
      }
    }
    if (measured.sizes.length) {
      sizes = pommel.fitSizes([...measured.sizes, ...earlier.sizes]);
      if (sizes.scatter === "contradict" && earlier.sizes.length) {
        sizes = pommel.fitSizes(measured.sizes);
        if (sizes.scatter !== "contradict") differ.push("sizes");
      }
      const doubt = sizes.scatter === "contradict" ? words.sizes_contradict : "";
      advice.push(...dialAdvice(words, sizes, rig, doubt, far));
    }
    return { fit, pips, advice, sizes, tolerance: standing, apart: differ, farthest_mm: far };
  }

  // Warnings: measurements at odds with each other or with earlier ones, errors too far to be any.
  function odd(found, numbers, words) {
    const told = [];
    for (const what of ["readings", "pips", "sizes"]) {
      const one = found[{ readings: "fit" }[what] || what];
      if (one && one.scatter === "contradict") {
        const value = fill(words.chi, { chi2: general(one.chi2, 3) });
        const limit = fill(words.chi_most, { most: general(pommel.chi2Limit(one.dof), 3) });
        told.push(fault("readings-contradict", what, value, limit, words.accuracy));
      }
    }
    for (const what of found.apart) {
      told.push(fault("setting-changed", what, "", words.changed, words.moved));
    }
    for (const one of found.advice) {
      if (one.far && one.error) {
        const over = one.over_mm ? fill(words.over, { length: numbers.rule(one.over_mm) }) : "";
        const value = numbers.exact(Math.abs(one.error.mm), 4) + over;
        const limit = fill(words.farthest, { most: numbers.exact(found.farthest_mm, 4) });
        told.push(fault("farther-than-likely", one.what, value, limit, words.look));
      }
    }
    return told;
  }

  // The same rows of text that pommel correct prints.
  function told(found, measured, numbers, words) {
    const plain = numbers.plain;
    const rows = [];
    const notes = [];
    const off = fill(words.off, { deg: general(ANVIL_OFF_DEG) });
    const rounded = (value) => (value === null ? null : round(value, 7));
    function add(what, one, how = plain.error.bind(plain), digits = rounded) {
      const show = (value) => (value === null ? "" : how(digits(value)));
      rows.push([what, show(one ? one.mm : null), show(one ? one.u_mm : null)]);
    }
    const three = (value) => general(value, 3);
    const { fit, pips, sizes, tolerance } = found;
    if (fit) {
      add(words.mean, fit.mean);
      add(words.radius, fit.radius);
      add(words.skew, fit.skew);
      if (fit.chi2_limit !== null) {
        rows.push([words.chi, three(round(fit.chi2, 4)), ""]);
        rows.push([words.chi_most, three(fit.chi2_limit), ""]);
      }
      if (fit.anvils && fit.skew && fit.radius) {
        add(`${words.radius}, ${off}`, estimate(fit.radius.mm, fit.anvils.radius_u_mm));
        add(`${words.skew}, ${off}`, estimate(fit.skew.mm, fit.anvils.skew_u_mm));
      }
      notes.push(fit.words);
      if (fit.balls > 1) notes.push(fill(words.balls, { n: fit.balls }));
      if (fit.anvils && fit.skew) {
        const [more, without] = [fit.anvils.skew_u_mm, fit.skew.u_mm].map((one) => numbers.error(one));
        const felt = numbers.error(fit.anvils.reading_mm); // or less than the last place there is
        notes.push(fill(more === without ? words.anvil_alike : words.anvil, {
          deg: numbers.angle(ANVIL_OFF_DEG),
          reading: Number.parseFloat(felt) ? felt : numbers.error(numbers.leastErrorMm),
          with: more, without,
        }));
      }
    }
    if (tolerance) {
      notes.push(fill(words.tolerance, {
        told: words.standing[tolerance.standing],
        tolerance: numbers.micrometer(measured.tolerance_mm),
        where: fit && fit.skew ? words.clear_of_stem : words.one_angle,
        off: numbers.error(tolerance.worst.mm), sure: numbers.error(SURE * tolerance.worst.u_mm),
      }));
    }
    if (pips) {
      add(words.offset, pips.offset);
      for (const answer of pips.answers) {
        rows.push([words.tilt, three(answer.tilt_deg), three(answer.tilt_u_deg)]);
        add(words.offset_with, answer.offset);
      }
    }
    if (sizes) {
      add(words.zero, sizes.zero);
      if (sizes.screw) {
        const share = (value) => fixed(value, SHARE_PLACES).replace(/^-(0\.0+)$/, "$1");
        add(words.screw, sizes.screw, share, (value) => round(value, 9));
      }
    }
    return { fit: rows, notes, advice: found.advice.map((one) => adviceRow(one, plain, words)) };
  }

  // A move in whole divisions of its dial, never one that takes off too much, and what is over.
  function onTheDial(one, numbers, words) {
    const [exact, step] = [one.divisions, one.amount_mm / one.divisions];
    const near = Number(fixed(exact, 0));
    if (Math.abs(exact - near) < NEAR_A_LINE && near) return fill(words.divisions, { n: near });
    if ((one.what === "size" || one.what === "zero") && one.error && one.error.mm < 0) {
      const n = Math.ceil(exact);
      return fill(words.divisions_more, { n, rest: numbers.error((n - exact) * step) });
    }
    const n = Math.floor(exact);
    if (!n) return words.divisions_less;
    return fill(words.divisions_and, { n, rest: numbers.error((exact - n) * step) });
  }

  function adviceRow(one, numbers, words) {
    let [amount, move] = ["", words.leave];
    const over = one.over_mm ? fill(words.over, { length: numbers.rule(one.over_mm) }) : "";
    if (one.justified) {
      move = one.sign_known ? one.move : fill(words.either_way, { move: one.move });
      amount = numbers.error(one.amount_mm);
      if (one.divisions !== null) amount += onTheDial(one, numbers, words);
    }
    return [
      words.names[one.what] + over, one.error ? numbers.error(one.error.mm) : "?", move, amount,
      one.remains_mm !== null ? numbers.error(one.remains_mm) : "?", one.reason,
    ];
  }

  // All that the readings of a ball say: refused, or rows, notes, warnings and the verdict.
  function correct(measured, rig, earlier, inch, words) {
    const numbers = new pommel.Numbers(inch);
    const refused = pommel.problems(measured, rig, numbers, words.faults);
    if (refused.length) return { refused };
    const found = corrected(measured, rig, earlier, words.advice);
    const standing = found.tolerance ? found.tolerance.standing : null;
    let verdict = "unknown";
    if (standing === "within") verdict = "good";
    if (standing === "outside") verdict = found.tolerance.small ? "scrap" : "rework";
    return {
      refused: [], ...told(found, measured, numbers, words.told), standing, verdict,
      odd: odd(found, numbers, words.odd),
      justified: found.advice.map((one) => one.justified),
      act: found.advice.some((one) => one.justified) || (standing !== null && standing !== "within"),
    };
  }

  Object.assign(pommel, { correct });
})(globalThis.pommel);
