// The page: its screens, how one goes from one to another, and what is the same on all.
"use strict";
(function (pommel) {
  const { data, t, h, store, say } = pommel;
  const main = document.getElementById("main");

  const finding = (one) => h("li", { class: `finding ${one.severity}` },
    h("b", {}, `${t(one.severity)}: `), one.text);

  const known = (text) => h("li", { class: "finding" }, text);

  // Of a topic that is worked by, the first table is open.
  const WORKED = ["check", "cutlist", "flat"];

  function tables(list, name) {
    return list.map((one, n) => pommel.table(one, one.ticked ? `${name} ${one.name}` : null,
      n > 0 || !WORKED.includes(name)));
  }

  const topic = (name) => data.topics.find((one) => one.name === name);

  function topics(...names) {
    return names.map(topic).filter(Boolean).map((one) => h("section", { class: "topic" },
      h("h3", {}, one.title), tables(one.tables, one.name)));
  }

  function toKnow(found) {
    const list = [...found.know];
    if (found.unlisted === 1) list.push(t("unlisted_one"));
    else if (found.unlisted) list.push(t("unlisted", { n: found.unlisted }));
    if (!list.length) return "";
    return [h("h3", {}, t("good_to_know")), h("ul", { class: "findings" }, list.map(known))];
  }

  pommel.screens.first = () => h("div", {},
    h("h3", {}, t("to_decide")),
    data.findings.decide.length
      ? h("ul", { class: "findings" }, data.findings.decide.map(finding))
      : h("p", {}, t("nothing_to_decide")),
    pommel.caution(data.caution),
    pommel.several(),
    pommel.names(),
    h("p", {}, t("about")),
    toKnow(data.findings),
    topics("check"));
  pommel.screens.saw = () => h("div", {}, topics("cutlist", "flat"));
  pommel.screens.more = () => h("div", {}, recording(), topics("sizes", "dial"), settings());

  function recording() {
    const many = h("p", {}, "");
    const count = () => {
      const found = pommel.entries();
      const sizes = found.filter((one) => one.value !== undefined).length;
      many.textContent = t("to_record", { sizes, done: found.length - sizes });
      return found;
    };
    pommel.onShow.more = count;
    count();
    return h("section", { class: "topic" }, h("h3", {}, t("record")), many,
      h("p", {}, t("record_help", { command: `pommel record ${data.job.file} --merge FILE` })),
      h("button", { type: "button", class: "main", onclick: () => {
        pommel.download(`${data.job.name}-measured.toml`, pommel.madeToml(data.job, count()));
        say(t("record_saved"));
      } }, t("save_record")));
  }

  function settings() {
    const sure = h("button", { type: "button", onclick: () => {
      if (!globalThis.confirm(t("forget_sure"))) return;
      store.kept = {};
      store.save();
      globalThis.location.reload();
    } }, t("forget"));
    return h("section", { class: "topic" }, h("h3", {}, t("this_device")), h("p", {}, t("kept_here")), sure);
  }

  pommel.onShow = {};
  const NAMES = ["first", "steps", "view", "draw", "ball", "saw", "more"];
  const SHORT = ["view", "draw"]; // what needs no list of what it holds
  const made = {};
  let now = null;

  function make(name) {
    if (made[name]) return;
    made[name] = true;
    const place = document.getElementById(`screen-${name}`);
    if (!SHORT.includes(name)) place.append(pommel.contents(place));
    place.append(pommel.screens[name]());
  }

  // Where one was on the screen that is shown: there it comes back.
  function keepPlace() {
    if (now) store.kept.places[now] = Math.round(globalThis.scrollY);
    store.save();
  }

  function toTop() {
    globalThis.scrollTo(0, 0);
    document.querySelector(`#screen-${now} h2`).focus({ preventScroll: true });
  }

  function show(name, focus = true) {
    if (!NAMES.includes(name)) name = "first";
    now = document.body.dataset.screen = name;
    for (const other of NAMES) {
      const place = document.getElementById(`screen-${other}`);
      place.hidden = other !== name;
      if (other === name) make(name);
      const link = document.querySelector(`nav a[href="#${other}"]`);
      if (other === name) {
        link.setAttribute("aria-current", "page");
        link.parentElement.scrollLeft = link.offsetLeft - 44; // large letters: the row is wider than the screen
      } else link.removeAttribute("aria-current");
    }
    if (pommel.onShow[name]) pommel.onShow[name]();
    store.kept.screen = name;
    store.save();
    if (focus) document.querySelector(`#screen-${name} h2`).focus({ preventScroll: true });
    globalThis.scrollTo(0, Number(store.kept.places[name]) || 0);
    onScroll();
  }

  const up = h("button", { type: "button", id: "up", hidden: true, onclick: toTop }, t("to_top"));
  function onScroll() {
    up.hidden = globalThis.scrollY < 1.5 * globalThis.innerHeight;
  }

  function theme(name) {
    if (name) document.documentElement.dataset.theme = name;
    else delete document.documentElement.dataset.theme;
    if (pommel.viewer) pommel.viewer.onTheme();
  }

  store.onFail = () => {
    document.getElementById("unkept").hidden = false;
    document.getElementById("unkept").textContent = t("not_kept");
  };
  store.load();
  document.getElementById("job").textContent = data.job.name;
  for (const name of NAMES) {
    main.append(h("section", { id: `screen-${name}`, hidden: true, "aria-labelledby": `head-${name}` },
      h("h2", { id: `head-${name}`, tabindex: "-1" }, t(`head_${name}`))));
    document.querySelector("nav").append(h("a", { href: `#${name}`, onclick: (event) => {
      if (name !== now) return;
      event.preventDefault();
      toTop();
    } }, t(`nav_${name}`)));
  }
  document.querySelector("nav").append(up);
  const shade = document.getElementById("shade");
  shade.textContent = t("light_dark");
  shade.addEventListener("click", () => {
    const dark = globalThis.matchMedia("(prefers-color-scheme: dark)").matches;
    const now = document.documentElement.dataset.theme || (dark ? "dark" : "light");
    store.kept.theme = now === "dark" ? "light" : "dark";
    store.save();
    theme(store.kept.theme);
  });
  theme(store.kept.theme);
  globalThis.history.scrollRestoration = "manual";
  globalThis.addEventListener("scroll", onScroll, { passive: true });
  globalThis.addEventListener("pagehide", keepPlace);
  globalThis.addEventListener("hashchange", () => {
    keepPlace();
    show(globalThis.location.hash.slice(1));
  });
  let folded = [];
  globalThis.addEventListener("beforeprint", () => {
    for (const name of NAMES) {
      if (name !== "view") make(name);
    }
    folded = [...document.querySelectorAll("details:not([open])")];
    for (const one of folded) one.open = true;
  });
  globalThis.addEventListener("afterprint", () => {
    for (const one of folded) one.open = false;
  });
  show(globalThis.location.hash.slice(1) || store.kept.screen || "first", false);
})(globalThis.pommel);
