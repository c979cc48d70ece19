/* One sheet at a time, without a page load: an answer is an entry of the outbox as soon as it is left.
   Without this script the same forms are sent as a whole. */
"use strict";
(() => {
  const form = document.getElementById("one-sheet");
  if (!form) return;
  const box = nearmarkOutbox,
    desk = nearmarkDesk;
  const find = document.getElementById("find"),
    code = document.getElementById("code");
  const takeBack = document.getElementById("take-back");
  const lines = [...form.querySelectorAll("[data-item]")].map((place) => ({
    place,
    item: place.dataset.item,
    label: place.querySelector("label strong").textContent,
    input: place.querySelector("input[type=text]"),
    key: place.querySelector("input[type=hidden]"),
    undo: place.querySelector("[data-undo]"),
    asItIs: place.querySelector("[data-as-it-is]"),
    state: place.querySelector(".state"),
  }));
  let data = JSON.parse(document.getElementById("sheets").textContent);
  let open = "";
  form.querySelector("[data-save]").hidden = true;

  /* What is known of an answer: what the server said, and over it what this device has not sent yet. */
  const nameOf = (pair, item) => `${pair}-${item}`;
  const draftOf = (name) => "entry-" + name;
  const titleOf = (pair, line) => `${data.sheets[pair].code}, ${line.label}`;
  const pending = (name) =>
    box
      .mine()
      .filter((entry) => entry.cell === name)
      .pop();
  function view(pair, item) {
    const name = nameOf(pair, item),
      known = data.sheets[pair].cells[item],
      last = pending(name);
    if (last && !last.fields.undo)
      return {
        state: last.state,
        value: last.fields["v-" + name],
        key: last.key,
        words: last.words,
        entry: last,
      };
    if (!last && known.state === "own")
      return { state: "saved", value: known.own, key: known.key, words: "" };
    if (known.state === "full") return { state: "full", value: "", words: "read by two people" };
    const typed = box.draft.read(draftOf(name));
    return typed
      ? { state: "draft", value: typed, words: "typed, not sent yet" }
      : { state: "", value: "", words: "" };
  }
  const WORDS = { saved: "saved", waiting: "waiting to be sent" };
  const isOpen = (seen) => ["", "draft", "refused", "look"].includes(seen.state);

  function draw() {
    if (!open) return;
    const sheet = data.sheets[open];
    document.getElementById("sheet-code").textContent = sheet.checked;
    document.getElementById("sheet-pair").textContent =
      `${sheet.school}, ${sheet.heat || "no heat"}`;
    const left = missing(open);
    document.getElementById("sheet-left").textContent = left.length
      ? `Still to type: ${left.join(", ")}`
      : "All of this sheet is read.";
    form.elements.pair.value = takeBack.elements.pair.value = sheet.code;
    lines.forEach((line) => {
      const name = nameOf(open, line.item),
        seen = view(open, line.item),
        mayType = isOpen(seen);
      // What is being typed is not touched.
      if (line.input !== document.activeElement || !mayType || !line.input.value)
        line.input.value = seen.value;
      line.input.readOnly = !mayType;
      line.input.hidden = seen.state === "full";
      line.input.name = mayType ? "v-" + name : "";
      line.key.name = mayType ? "k-" + name : "";
      if (mayType) line.key.value = box.newKey();
      line.input.setAttribute(
        "aria-invalid",
        String(seen.state === "refused" || seen.state === "look"),
      );
      line.undo.hidden = !["saved", "waiting"].includes(seen.state);
      line.undo.value = seen.key || "";
      line.asItIs.hidden = seen.state !== "look";
      line.state.dataset.state = seen.state === "full" ? "" : seen.state;
      line.state.textContent = seen.words || WORDS[seen.state] || "";
    });
    form.hidden = false;
  }
  const missing = (pair) =>
    lines.filter((line) => isOpen(view(pair, line.item))).map((line) => line.label);

  function drawList() {
    let all = 0;
    document.querySelectorAll("[data-heat]").forEach((heat) => {
      const links = [...heat.querySelectorAll("[data-pair]")];
      const n = links.filter((link) => {
        const isLeft =
          Boolean(data.sheets[link.dataset.pair]) && missing(link.dataset.pair).length > 0;
        link.parentElement.hidden = !isLeft;
        if (link.dataset.pair === open) link.setAttribute("aria-current", "true");
        else link.removeAttribute("aria-current");
        return isLeft;
      }).length;
      heat.querySelector("[data-left]").textContent = `${n} of ${links.length} left`;
      heat.hidden = !n;
      all += n;
    });
    document.querySelector("[data-none]").hidden = all > 0;
  }

  /* What waits for an answer comes before what is done. */
  const troubles = () =>
    box
      .mine()
      .filter((entry) => entry.cell && (entry.state === "refused" || entry.state === "look"));
  function tell(state, words, acts) {
    const [first] = troubles();
    if (!first) {
      desk.told(state, words, acts);
      return;
    }
    const change = ["Change it", () => show(first.cell)];
    if (first.state === "look")
      desk.told("look", `${first.shown}. ${first.words}`, [
        ["Save it as it is", () => box.again(first, first.doubts)],
        change,
      ]);
    else desk.told("refused", `${first.title}: ${first.shown}. Refused: ${first.words}`, [change]);
  }

  function show(cell) {
    const [pair, item] = cell.split("-");
    if (!data.sheets[pair]) return;
    openSheet(pair);
    const line = lines.find((one) => one.item === item);
    if (line) {
      line.input.focus();
      line.input.select();
    }
  }
  function openSheet(pair) {
    leaveAll();
    document.activeElement.blur();
    open = pair;
    code.value = "";
    refuse("");
    history.replaceState(null, "", "?pair=" + encodeURIComponent(data.sheets[pair].code));
    draw();
    drawList();
    const free = lines.find((line) => isOpen(view(pair, line.item)));
    tell(
      "",
      `${data.sheets[pair].code}: ${free ? "type its answers" : "all of this sheet is read. If you hold a second sheet with this code, do not type it: clip both together and give them to the lead."}`,
    );
    form.scrollIntoView({ block: document.getElementById("keypad").hidden ? "nearest" : "start" });
    (free ? free.input : code).focus({ preventScroll: true });
  }
  function refuse(words) {
    const place = document.getElementById("code-told");
    place.textContent = words;
    place.dataset.state = words ? "refused" : "";
    code.setAttribute("aria-invalid", String(Boolean(words)));
    if (words) desk.told("refused", words);
  }

  function meant(typed) {
    const pair = desk.meant(data.codes, typed);
    return data.sheets[pair] ? pair : "";
  }
  async function findSheet(typed) {
    if (!typed.trim()) {
      code.focus();
      return;
    }
    if (meant(typed)) {
      openSheet(meant(typed));
      return;
    }
    // A pair that came late, or a code that means none: the server says which.
    let words =
      "This device does not know this code, and the server does not answer. Read the code again.";
    try {
      const page = await desk.renew("?pair=" + encodeURIComponent(typed), "left-sheets", takeOver);
      if (meant(typed)) {
        openSheet(meant(typed));
        return;
      }
      words = page.getElementById("code-told").textContent;
    } catch {
      /* the link is down */
    }
    refuse(words);
    code.focus();
    code.select();
  }
  function takeOver() {
    data = JSON.parse(document.getElementById("sheets").textContent);
    draw();
    drawList();
  }

  /* An answer that was left is on its way. False where the browser keeps nothing. */
  function leave(line) {
    const value = line.input.value.trim();
    if (!open || line.input.readOnly || !value) return true;
    const pair = open,
      name = nameOf(pair, line.item),
      before = pending(name);
    if (before && before.fields["v-" + name] === value) return true;
    const key = box.newKey();
    const kept = box.add({
      key,
      name,
      cell: name,
      url: form.action,
      title: titleOf(pair, line),
      shown: value,
      fields: { ["v-" + name]: value, ["k-" + name]: key },
    });
    if (!kept) return false;
    // What was refused or asked is answered by what is typed now.
    if (before && !before.fields.undo) box.discard(before);
    box.draft.drop(draftOf(name));
    return true;
  }
  const leaveAll = () => lines.map(leave).every(Boolean);
  function undo(line) {
    const seen = view(open, line.item),
      name = nameOf(open, line.item),
      key = seen.key;
    if (!key) return true;
    // Behind the reading itself, if that has not arrived yet: the server takes them in turn.
    const kept = box.add({
      key: box.newKey(),
      name: key,
      cell: name,
      url: takeBack.action,
      title: titleOf(open, line),
      shown: "taken back",
      fields: { undo: key },
    });
    if (!kept) return false;
    line.input.value = "";
    draw();
    line.input.focus();
    return true;
  }

  box.listen(({ entry, state, words }) => {
    if (!entry.cell) return;
    desk.hear();
    const [pair, item] = entry.cell.split("-"),
      sheet = data.sheets[pair];
    const wasRead = !entry.fields.undo,
      value = entry.fields["v-" + entry.cell];
    if (state === "saved" && sheet)
      sheet.cells[item] = wasRead
        ? { state: "own", own: value, key: entry.key }
        : { state: "free", own: "", key: "" };
    // A reading that was not saved needs no taking back.
    if (wasRead && (state === "refused" || state === "look"))
      box
        .mine()
        .filter((one) => one.fields.undo === entry.key)
        .forEach((one) => {
          box.discard(one);
          box.discard(entry);
        });
    draw();
    drawList();
    const line = lines.find((one) => one.item === item);
    if (state === "saved" && wasRead)
      tell(
        "saved",
        `${entry.title}: ${value} saved`,
        line && sheet
          ? [
              [
                "Undo",
                () => {
                  show(entry.cell);
                  undo(line);
                },
              ],
            ]
          : [],
      );
    else if (state === "saved") tell("saved", `${entry.title}: taken back. Type it again.`);
    else if (state === "waiting")
      setTimeout(() => {
        if (box.mine().some((one) => one.key === entry.key && one.state === "waiting"))
          tell(
            "waiting",
            `${entry.title}: ${entry.shown}, kept on this device until the server answers`,
          );
      }, 400);
    else tell("", "");
  });
  box.mendBy((entry) => {
    if (entry.cell && data.sheets[entry.cell.split("-")[0]]) show(entry.cell);
    else location.href = entry.page;
  });

  lines.forEach((line) => {
    line.input.addEventListener("change", () => leave(line));
    line.input.addEventListener("input", () =>
      box.draft.keep(draftOf(nameOf(open, line.item)), line.input.value),
    );
    line.input.addEventListener("keydown", (event) => {
      if (!["Enter", "ArrowDown", "ArrowUp"].includes(event.key)) return;
      event.preventDefault();
      const here = lines.indexOf(line);
      if (event.key === "ArrowUp") {
        if (here) lines[here - 1].input.focus();
        return;
      }
      // A scanner types the code of the next sheet wherever the cursor is.
      if (/[a-z]/i.test(line.input.value) && meant(line.input.value)) {
        const typed = line.input.value;
        line.input.value = "";
        box.draft.drop(draftOf(nameOf(open, line.item)));
        openSheet(meant(typed));
        return;
      }
      leave(line);
      goOn(here);
    });
  });
  function goOn(here) {
    const rest = lines.slice(here + 1).find((line) => !line.input.readOnly && !line.input.hidden);
    if (rest) {
      rest.input.focus();
      return;
    }
    const asked = lines.find((line) => ["refused", "look"].includes(view(open, line.item).state));
    if (asked) {
      asked.input.focus();
      asked.input.select();
      return;
    }
    code.focus();
  }
  find.addEventListener("submit", (event) => {
    event.preventDefault();
    findSheet(code.value);
  });
  document.addEventListener("click", (event) => {
    const link = event.target.closest("[data-pair]");
    if (!link || !data.sheets[link.dataset.pair]) return;
    event.preventDefault();
    openSheet(link.dataset.pair);
  });
  takeBack.addEventListener("submit", (event) => {
    const line = lines.find((one) => one.undo === event.submitter);
    if (line && undo(line)) event.preventDefault();
  });
  form.addEventListener("submit", (event) => {
    const line = lines.find((one) => one.asItIs === event.submitter);
    const asked = line && pending(nameOf(open, line.item));
    if (asked) {
      event.preventDefault();
      box.again(asked, asked.doubts);
      return;
    }
    // Where the browser keeps nothing, the form goes as a whole and says so itself.
    if (leaveAll()) event.preventDefault();
  });
  // A scanner, or a hand on the keys, while nothing has the focus.
  document.addEventListener("keydown", (event) => {
    if (
      event.target === document.body &&
      event.key.length === 1 &&
      !event.ctrlKey &&
      !event.metaKey &&
      !event.altKey
    )
      code.focus();
  });

  const asked = new URLSearchParams(location.search).get("pair");
  if (asked && meant(asked) && !form.hidden) openSheet(meant(asked));
  else {
    drawList();
    tell("", "");
    if (!code.value) code.focus();
  }
  desk.keepNew("left-sheets", takeOver);
})();
