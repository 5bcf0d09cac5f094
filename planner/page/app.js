// The page: its screens, how one goes from one to another, and what is the same on all.
"use strict";
(function (pommel) {
  const { data, t, h, store, say } = pommel;
  const main = document.getElementById("main");

  function finding(one) {
    return h("li", { class: `finding ${one.severity}` },
      h("b", {}, `${t(one.severity)} [${one.code}] `), one.text, one.key ? ` (${one.key})` : "");
  }

  function tables(list, tick = null) {
    return list.map((one) => pommel.table(one, one.ticked && tick ? `${tick} ${one.name}` : null));
  }

  const topic = (name) => data.topics.find((one) => one.name === name);

  function topics(...names) {
    return names.map(topic).filter(Boolean).map((one) => h("section", { class: "topic" },
      h("h3", {}, one.title), tables(one.tables, one.name)));
  }

  pommel.screens.first = () => h("div", {},
    h("h3", {}, t("to_decide")),
    data.findings.length
      ? h("ul", { class: "findings" }, data.findings.map(finding)) : h("p", {}, t("nothing_to_decide")),
    h("p", { class: "caution" }, h("b", {}, t("caution")), " ", data.caution),
    h("p", {}, t("about")),
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
  const made = {};

  function show(name, focus = true) {
    if (!NAMES.includes(name)) name = "first";
    for (const other of NAMES) {
      const place = document.getElementById(`screen-${other}`);
      place.hidden = other !== name;
      if (other === name && !made[name]) {
        made[name] = true;
        place.append(pommel.screens[name]());
      }
      const link = document.querySelector(`nav a[href="#${other}"]`);
      if (other === name) link.setAttribute("aria-current", "page");
      else link.removeAttribute("aria-current");
    }
    if (pommel.onShow[name]) pommel.onShow[name]();
    store.kept.screen = name;
    store.save();
    globalThis.scrollTo(0, 0);
    if (focus) document.querySelector(`#screen-${name} h2`).focus();
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
    document.querySelector("nav").append(h("a", { href: `#${name}` }, t(`nav_${name}`)));
  }
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
  globalThis.addEventListener("hashchange", () => show(globalThis.location.hash.slice(1)));
  globalThis.addEventListener("beforeprint", () => {
    for (const name of NAMES) {
      if (made[name] || name === "view") continue;
      made[name] = true;
      document.getElementById(`screen-${name}`).append(pommel.screens[name]());
    }
    for (const one of document.querySelectorAll("details")) one.open = true;
  });
  show(globalThis.location.hash.slice(1) || store.kept.screen || "first", false);
})(globalThis.pommel);
