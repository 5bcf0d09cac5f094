// Lengths in and out: the same digits as planner/words/numbers.py and units.py write and read.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const MM_PER_INCH = 25.4;
  const GRAIN = 1e-6;
  const LEAST_BAND = 1 / 3;
  const DUST_PLACES = 8;
  const DUST_IN = 1e-7;
  const EXACT = { mm: 1.0, cm: 10.0, m: 1000.0, in: MM_PER_INCH, ft: 12 * MM_PER_INCH };

  // The exact value of a double as a whole number times a power of two.
  function parts(value) {
    const view = new DataView(new ArrayBuffer(8));
    view.setFloat64(0, value);
    const bits = view.getBigUint64(0);
    const exponent = Number((bits >> 52n) & 0x7ffn);
    const fraction = bits & 0xfffffffffffffn;
    return exponent ? [fraction | (1n << 52n), exponent - 1075] : [fraction, -1074];
  }

  // value * 10^places rounded to a whole number, half to even, from the exact value of the double.
  function scaled(value, places) {
    let [number, power] = parts(Math.abs(value));
    let divisor = 1n;
    if (places >= 0) number *= 10n ** BigInt(places);
    else divisor = 10n ** BigInt(-places);
    if (power >= 0) number <<= BigInt(power);
    else divisor <<= BigInt(-power);
    let whole = number / divisor;
    const twice = (number % divisor) * 2n;
    if (twice > divisor || (twice === divisor && whole & 1n)) whole += 1n;
    return whole;
  }

  const negative = (value) => value < 0 || Object.is(value, -0);

  // As Python's f"{value:.{places}f}".
  function fixed(value, places) {
    if (Number.isNaN(value)) return "nan";
    if (!Number.isFinite(value)) return value < 0 ? "-inf" : "inf";
    let digits = scaled(value, places).toString();
    if (places) {
      digits = digits.padStart(places + 1, "0");
      digits = digits.slice(0, -places) + "." + digits.slice(-places);
    }
    return (negative(value) ? "-" : "") + digits;
  }

  // As Python's f"{value:.{digits}g}".
  function general(value, digits = 6) {
    if (Number.isNaN(value)) return "nan";
    if (!Number.isFinite(value)) return value < 0 ? "-inf" : "inf";
    const sign = negative(value) ? "-" : "";
    if (value === 0) return sign + "0";
    let exponent = Math.floor(Math.log10(Math.abs(value)));
    let text = "";
    for (exponent -= 1; ; exponent += 1) {
      text = scaled(value, digits - 1 - exponent).toString();
      if (text.length <= digits) break;
    }
    if (text.length < digits) text = scaled(value, digits - exponent).toString();
    if (text.length < digits) exponent -= 1;
    text = text.padEnd(digits, "0");
    const trim = (one) => (one.includes(".") ? one.replace(/0+$/, "").replace(/\.$/, "") : one);
    if (exponent < -4 || exponent >= digits) {
      const size = Math.abs(exponent).toString().padStart(2, "0");
      return sign + trim(text[0] + "." + text.slice(1)) + "e" + (exponent < 0 ? "-" : "+") + size;
    }
    return sign + trim(fixed(Math.abs(value), Math.max(0, digits - 1 - exponent)));
  }

  // As Python's round(value, places).
  const round = (value, places) => Number(fixed(value, places));

  function trimmed(value, places) {
    let text = fixed(value, places);
    if (text.includes(".")) text = text.replace(/0+$/, "").replace(/\.$/, "");
    return text === "-0" || text === "" ? "0" : text;
  }

  function fraction(sixtyfourths) {
    let top = Math.abs(sixtyfourths);
    let bottom = 64;
    while (bottom > 1 && top % 2 === 0) {
      top /= 2;
      bottom /= 2;
    }
    const sign = sixtyfourths < 0 ? "-" : "";
    const whole = Math.floor(top / bottom);
    top -= whole * bottom;
    if (!top) return sign + whole;
    return whole ? `${sign}${whole}-${top}/${bottom}` : `${sign}${top}/${bottom}`;
  }

  function showLength(mm, inch, places = null) {
    if (!inch) return trimmed(mm, places === null ? 2 : places);
    const inches = mm / MM_PER_INCH;
    const parts64 = Number(fixed(inches * 64, 0));
    if (places === null && Math.abs((parts64 / 64) * MM_PER_INCH - mm) < 0.002) {
      return fraction(parts64);
    }
    const text = fixed(round(inches, DUST_PLACES), places === null ? 3 : places);
    return Number(text) ? text : text.replace(/^-/, "");
  }

  // A job's language of numbers; named: with the unit behind the number.
  class Numbers {
    constructor(inch, named = true) {
      this.inch = inch;
      this.named = named;
    }
    get plain() {
      return new Numbers(this.inch, false);
    }
    get unit() {
      return this.inch ? "in" : "mm";
    }
    said(number, unit) {
      return this.named ? `${number} ${unit}` : number;
    }
    length(mm, places = null) {
      return this.said(showLength(mm, this.inch, places), this.unit);
    }
    size(mm) {
      return this.length(mm);
    }
    // To the nearest half millimetre or 64th, halves to even.
    rule(mm) {
      const steps = Number(fixed(mm / (this.inch ? MM_PER_INCH / 64 : 0.5), 0));
      return this.said(this.inch ? fraction(steps) : trimmed(steps * 0.5, 1), this.unit);
    }
    micrometer(mm) {
      return this.length(mm, this.inch ? 4 : 3);
    }
    error(mm) {
      return this.length(mm, 4);
    }
    // The last place that an error is told to.
    get leastErrorMm() {
      return this.inch ? 0.0001 * MM_PER_INCH : 0.0001;
    }
    exact(mm, places = 6) {
      return this.said(trimmed(this.inch ? mm / MM_PER_INCH : mm, places), this.unit);
    }
    // Limits rounded inward to what the finest gauge reads; finer where that would leave too little.
    between(lowMm, highMm) {
      const unit = this.inch ? MM_PER_INCH : 1;
      const steps = this.inch ? [0.0001, 0.00001, 1e-6] : [0.001, 0.0001, 1e-6];
      const written = [lowMm, highMm].every((mm) => {
        const inches = mm / unit;
        return Math.abs(inches - round(inches, 3)) < DUST_IN;
      });
      // five thousandths apart, or two where they are whole ones
      if (this.inch && (highMm - lowMm) / unit >= (written ? 0.002 : 0.005) - GRAIN) steps.unshift(0.001);
      const least = (LEAST_BAND * (highMm - lowMm)) / unit;
      let low, high, used;
      for (const step of steps) {
        used = step;
        low = Math.ceil(lowMm / unit / step - GRAIN) * step;
        high = Math.floor(highMm / unit / step + GRAIN) * step;
        if (high - low >= least - GRAIN * step) break;
      }
      const decimals = (value) => (trimmed(value, 6).split(".")[1] || "").length;
      const places = Math.max(...(this.inch ? [used, low, high] : [low, high]).map(decimals));
      return this.said(`${fixed(low, places)} to ${fixed(high, places)}`, this.unit);
    }
    angle(degrees, places = 0) {
      return this.said(fixed(degrees, places), "deg");
    }
  }

  const NUMBER = "(?:\\d+\\s*-\\s*\\d+/\\d+|\\d+\\s+\\d+/\\d+|\\d+/\\d+|\\d*\\.\\d+|\\d+\\.?\\d*)";
  const LENGTH = new RegExp(`^\\s*([+-]?)\\s*(${NUMBER}(?:[eE][+-]?\\d+)?)\\s*([A-Za-z"'µ]*)\\s*$`);

  function amount(text) {
    const mixed = /^(\d+)(?:\s*-\s*|\s+)(\d+)\/(\d+)$/.exec(text);
    if (mixed) return (Number(mixed[1]) * Number(mixed[3]) + Number(mixed[2])) / Number(mixed[3]);
    const part = /^(\d+)\/(\d+)$/.exec(text);
    if (part) return Number(part[1]) / Number(part[2]);
    return Number(text);
  }

  // Millimetres of what was typed, or null where it is no length; unit: of a bare number.
  function lengthMm(text, unit) {
    const found = LENGTH.exec(String(text).replace(",", "."));
    if (!found) return null;
    const own = { '"': "in", "'": "ft" }[found[3]] || found[3] || unit;
    if (!(own in EXACT)) return null;
    const mm = amount(found[2]) * (found[1] === "-" ? -1 : 1) * EXACT[own];
    return Number.isFinite(mm) ? mm : null;
  }

  // The same as the record keeps it: as typed, with a unit.
  function spelled(text, unit) {
    const plain = String(text).trim().replace(",", ".");
    return LENGTH.exec(plain)[3] ? plain : `${plain} ${unit}`;
  }

  Object.assign(pommel, {
    MM_PER_INCH, Numbers, fixed, general, round, trimmed, showLength, lengthMm, spelled,
  });
})(globalThis.pommel);
