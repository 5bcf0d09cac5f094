// What every screen is made with: elements, words, and what is remembered on this device.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const read = (id) => {
    const found = document.getElementById(id);
    if (!found) return null;
    const text = found.textContent;
    return JSON.parse(found.dataset.packed === undefined ? text : pommel.unpack(text));
  };
  const words = read("words");
  const data = read("data");

  // The words of a key, its {names} filled in.
  function t(key, values = {}) {
    const text = words.ui[key];
    if (text === undefined) throw new Error(`no words for ${key}`);
    return pommel.fill(text, values);
  }

  // A fraction that does not break behind its whole number, "2-41/64" (by U+2060, word joiner).
  const whole = (one) =>
    typeof one === "string" ? one.replace(/(\d-)(?=\d+\/\d)/g, "$1\u2060") : one;

  // What is read as words, where no line breaks between a figure and its unit, as in the book.
  const READ = ["h2", "h3", "h4", "p", "li"];
  const united = (one) => (typeof one !== "string" ? one : one.replace(/(\d) (?=(mm|in|deg|min|rev\/min|m\/min|ft\/min|tpi|Nm|N|lbf|kg|g|lb|oz|h)\b(?!-))/g, "$1\u00a0"));

  // An element; attributes by name, on... as listeners, true and false as present and absent.
  function h(tag, attributes = {}, ...inside) {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) {
      if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
      else if (value === true) made.setAttribute(name, "");
      else if (value !== false && value !== null && value !== undefined) {
        made.setAttribute(name, value);
      }
    }
    made.append(...inside.flat().filter((one) => one !== null && one !== undefined && one !== "")
      .map(whole).map((one) => (READ.includes(tag) ? united(one) : one)));
    return made;
  }

  // What is remembered: under the job's name, on this device alone. Refused or full, it says so once.
  const store = {
    key: `pommel ${data.job.name}`,
    kept: {},
    failed: false,
    onFail: () => {},
    load() {
      try {
        this.kept = JSON.parse(localStorage.getItem(this.key) || "{}") || {};
      } catch {
        this.fail();
      }
      for (const [name, empty] of [["ticks", {}], ["values", {}], ["balls", {}], ["places", {}],
        ["open", {}], ["numbers", {}]]) {
        if (typeof this.kept[name] !== "object" || !this.kept[name]) this.kept[name] = empty;
      }
    },
    save() {
      try {
        localStorage.setItem(this.key, JSON.stringify(this.kept));
      } catch {
        this.fail();
      }
    },
    fail() {
      if (!this.failed) this.onFail();
      this.failed = true;
    },
  };

  const FEW = 4; // rows of a table that is not folded away

  // What is long, under its heading: a tap opens or shuts it, and it stays so on this device.
  function fold(title, small, open, ...inside) {
    const place = h("details", { class: "fold", open: store.kept.open[title] ?? open },
      h("summary", { onclick: () => keepOpen(title, !place.open) }, h("h3", {}, title), " ",
        h("span", { class: "small" }, small)), ...inside);
    return place;
  }

  function keepOpen(title, open) {
    store.kept.open[title] = open;
    store.save();
  }

  // A table as the command prints it; on a narrow screen each row stands as a card of its own. may: it
  // is folded away where it has more than a few rows.
  function table(one, tick = null, may = false) {
    if (one.large) return folded(one, tick, may);
    if (one.cautions) return careful(one, tick, may);
    const heads = one.heads.map((head) => h("th", { scope: "col" }, head));
    if (tick) heads.unshift(h("th", { scope: "col" }, t("done")));
    const rows = one.rows.map((row, number) => {
      const cells = row.map((cell, k) => h("td", {}, h("span", { class: "head", "aria-hidden": "true" },
        `${one.heads[k]} `), String(cell)));
      cells.forEach((cell, k) => cell.classList.toggle("none", row[k] === ""));
      cells.forEach((cell, k) => cell.classList.toggle("set", one.heads[k] === one.set));
      if (tick) cells.unshift(h("td", { class: "tick" }, rowBox(tick, number, row)));
      return h("tr", {}, cells);
    });
    const inside = [
      rows.length ? h("table", {}, h("thead", {}, h("tr", {}, heads)), h("tbody", {}, rows))
        : h("p", { class: "note" }, t("none")),
      one.notes.map((note) => h("p", { class: "note" }, note))].flat();
    if (may && rows.length > FEW) {
      return fold(one.title, t("rows", { n: rows.length }), false, h("div", { class: "table" }, inside));
    }
    return h("div", { class: "table" }, h("h3", {}, one.title), inside);
  }

  const caution = (text) => h("p", { class: "caution" }, h("b", {}, t("caution")), " ", text);

  // How many are made and what is minded then; nothing where it is one.
  const several = () => (data.several.length ? h("section", { class: "several" },
    h("h3", {}, t("several", { n: data.job.quantity })), data.several.map((one) => h("p", {}, one))) : "");

  // What an American shop calls things, for a job in inches; nothing for another.
  const names = () => data.names.map((one) => h("p", { class: "names" }, one));

  const rowBox = (tick, number, row, onChange) => box(`${tick} ${number} ${row.join("|")}`,
    t("done_row", { row: row.filter(Boolean).slice(0, 3).join(", ") }), onChange);

  // Rows to be done in order, open at first: every caution is in sight, how a row is done under what it
  // is. On a narrow screen that is shut but where one has come to; the box of a row leads on to the next.
  function careful(one, tick, may) {
    const [, , , ...others] = one.heads;
    const rows = one.rows.map((row, number) => {
      const [n, what, set, ...rest] = row;
      const said = [h("b", {}, `${n}. ${what}`), set === "" ? "" : h("span", {}, `: ${set}`)];
      const how = rest.map((cell, k) => (cell === "" ? "" : h("p", {},
        h("span", { class: "what" }, others[k]), ` ${cell}`))).filter(Boolean);
      const place = how.length ? h("details", {}, h("summary", {}, said), how) : h("p", {}, said);
      const row_ = { place, box: tick ? rowBox(tick, number, row, () => come(number)) : "" };
      row_.item = h("li", {}, row_.box, h("div", {}, place),
        one.cautions[number] ? caution(one.cautions[number]) : "");
      return row_;
    });
    const isDone = (row) => Boolean(row.box && row.box.querySelector("input").checked);
    const next = () => rows.find((row) => !isDone(row));
    function come(number) {
      if (wide()) return;
      rows[number].place.open = !isDone(rows[number]);
      if (isDone(rows[number]) && next()) next().place.open = true;
    }
    for (const row of rows) row.place.open = wide() || row === next();
    const inside = h("div", { class: "table" }, h("ol", { class: "passes" }, rows.map((row) => row.item)),
      one.notes.map((note) => h("p", { class: "note" }, note)));
    if (may && rows.length > FEW) return fold(one.title, t("rows", { n: rows.length }), true, inside);
    return h("div", {}, h("h3", {}, one.title), inside);
  }

  const wide = () => globalThis.matchMedia("(min-width: 44rem)").matches;

  // A table of which a row is read at the dial: what is read in large, the rest of the row folded away;
  // may: all of it is, being for later.
  function folded(one, tick, may) {
    const cell = (row, k) => h("div", {}, h("dt", {}, one.heads[k]), h("dd", {}, row[k]));
    const large = one.heads.map((head) => one.large.read.includes(head));
    const named = one.heads.indexOf(one.large.named);
    const inside = [
      h("ol", { class: "passes" }, one.rows.map((row, number) => {
        const some = (wanted) => row.map((_, k) => k).filter(
          (k) => k !== named && one.heads[k] && row[k] !== "" && large[k] === wanted);
        return h("li", {},
          tick ? rowBox(tick, number, row) : "",
          h("div", {},
            h("p", {}, h("b", {}, `${row[0]}. ${row[named]}`)),
            h("dl", { class: "large" }, some(true).map((k) => cell(row, k))),
            h("details", {},
              h("summary", { "aria-label": t("rest_of", { n: row[0] }) }, t("the_rest")),
              h("dl", {}, some(false).map((k) => cell(row, k))))));
      })),
      one.notes.length ? h("details", {}, h("summary", {}, t("how_read")),
        one.notes.map((note) => h("p", { class: "note" }, note))) : ""];
    if (may) return fold(one.title, t("rows", { n: one.rows.length }), false, inside);
    return h("div", { class: "table" }, h("h3", {}, one.title), inside);
  }

  // A list of what a screen holds: each heading leads to its place. Made anew whenever it is opened.
  function contents(screen) {
    const list = h("ul", {});
    const place = h("details", { class: "contents", ontoggle: () => {
      if (!place.open) return;
      const heads = [...screen.querySelectorAll("h3")].filter(
        (one) => !one.closest(".card") && one.checkVisibility());
      list.replaceChildren(...heads.map((head) => h("li", {}, h("button", {
        type: "button", class: "quiet", onclick: () => {
          place.open = false;
          const around = head.closest("details.fold");
          if (around) {
            around.open = true;
            keepOpen(head.textContent, true);
          }
          head.setAttribute("tabindex", "-1");
          head.focus({ preventScroll: true });
          head.scrollIntoView();
        } }, head.textContent))));
    } }, h("summary", {}, t("contents")), list);
    return place;
  }

  // What is kept of one of several made alike: of the first under the key itself.
  const numbered = (key, number) => (number > 1 ? `${key} no. ${number}` : key);

  // The numbers of so many made alike, from 1.
  const numbersTo = (many) => Array.from({ length: many }, (_, n) => n + 1);

  // A large box that remembers whether it is ticked, and when; label: for who cannot see it. keys: one, or
  // those of several made alike, of which all are ticked with it, and it where all are.
  function box(keys, label, onChange = () => {}) {
    const every = [keys].flat();
    const input = h("input", {
      type: "checkbox", "aria-label": label, checked: every.every((key) => store.kept.ticks[key]),
      onchange: () => {
        for (const key of every) {
          if (!input.checked) delete store.kept.ticks[key];
          else store.kept.ticks[key] = store.kept.ticks[key] || today();
        }
        store.save();
        onChange(input.checked);
      },
    });
    return h("label", { class: "box" }, input, h("span", { "aria-hidden": "true" }));
  }

  function today() {
    const now = new Date();
    const two = (number) => String(number).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  }

  // Gives a text to the user as a file.
  function download(name, text) {
    const url = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
    const link = h("a", { href: url, download: name });
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(url), 1000);
  }

  function say(text) {
    const place = document.getElementById("said");
    place.textContent = text;
  }

  const numbers = new pommel.Numbers(data.job.inch);
  Object.assign(pommel, { read, words, data, t, h, store, table, fold, caution, several, names, contents, box, numbered, numbersTo, today, download, say, numbers });
})(globalThis.pommel);
