// One cursor across every strip of a group, a dot on the map, and the values there read out.
// The charts stand without it; the readings come from the address in the group's data-readings.

const SVG = "http://www.w3.org/2000/svg";
const LEAP = 20;
const FOOT = 24; // under the drawing, for the axis

class Cursor {
  constructor(group, readings) {
    this.group = group;
    this.readings = readings;
    this.changed = null;
    this.at = null;
    this.strips = [...group.querySelectorAll("svg[data-strip]")];
    this.lines = this.strips.map(strip => this.lineIn(strip));
    this.readOut = group.querySelector("[data-read-out]");
    this.hint = this.readOut?.textContent ?? "";
    this.dot = this.dotOn(document.querySelector(group.dataset.map || "no-map"));
    this.listen();
  }

  lineIn(strip) {
    const line = document.createElementNS(SVG, "line");
    line.setAttribute("class", "cursor");
    line.setAttribute("y1", "20");
    line.setAttribute("y2", strip.getAttribute("height") - FOOT);
    line.setAttribute("visibility", "hidden");
    strip.append(line);
    return line;
  }

  dotOn(map) {
    const svg = this.readings.map_places ? map?.querySelector("svg") : null;
    if (!svg) return null;
    const dot = document.createElementNS(SVG, "circle");
    dot.setAttribute("class", "cursor");
    dot.setAttribute("r", "9");
    dot.setAttribute("visibility", "hidden");
    svg.append(dot);
    return dot;
  }

  listen() {
    for (const strip of this.strips) {
      const follow = event => {
        if (event.type === "pointermove" && event.pointerType !== "mouse" && !event.buttons) return;
        const box = strip.getBoundingClientRect();
        this.moveToShare((event.clientX - box.left) / box.width);
      };
      strip.addEventListener("pointerdown", follow);
      strip.addEventListener("pointermove", follow);
    }
    this.group.tabIndex = 0;
    this.group.addEventListener("keydown", event => this.onKey(event));
    this.group.addEventListener("lap-changed", event => this.change(event.detail));
  }

  onKey(event) {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const last = this.readings.places.length - 1;
    const by = event.shiftKey ? LEAP : 1;
    const targets = {
      ArrowRight: this.at === null ? 0 : this.at + by,
      ArrowLeft: this.at === null ? last : this.at - by,
      Home: 0,
      End: last,
    };
    if (event.key === "Escape") this.hide();
    if (!(event.key in targets)) return;
    event.preventDefault();
    this.moveTo(Math.max(0, Math.min(last, targets[event.key])));
  }

  moveToShare(share) {
    const { first, last } = this.readings.axis;
    this.moveTo(nearest(this.readings.places, first + share * (last - first)));
  }

  moveTo(at) {
    if (at === this.at) return;
    this.at = at;
    this.show();
  }

  hide() {
    this.at = null;
    for (const mark of [...this.lines, this.dot]) mark?.setAttribute("visibility", "hidden");
    if (this.readOut) this.readOut.textContent = this.hint;
  }

  change(changed) {
    this.changed = changed;
    for (const path of this.group.querySelectorAll("path[data-changed]")) {
      path.setAttribute("d", changed?.paths[path.dataset.changed] ?? "");
    }
    if (this.at !== null) this.show();
  }

  show() {
    const { axis, places, map_places: mapped } = this.readings;
    const across = `${(100 * (places[this.at] - axis.first)) / (axis.last - axis.first)}%`;
    for (const line of this.lines) {
      line.setAttribute("x1", across);
      line.setAttribute("x2", across);
      line.setAttribute("visibility", "visible");
    }
    if (this.dot) {
      this.dot.setAttribute("cx", mapped[this.at][0]);
      this.dot.setAttribute("cy", mapped[this.at][1]);
      this.dot.setAttribute("visibility", "visible");
    }
    if (this.readOut) this.readOut.textContent = this.words();
  }

  words() {
    const { axis, places, columns, words, words_label: label } = this.readings;
    const unit = axis.unit ? ` ${axis.unit}` : "";
    const place = `${axis.label} ${places[this.at].toFixed(0)}${unit}`;
    const values = columns.map(column => this.valueWords(column));
    if (this.changed) values.push(gainWords(this.changed.gained[this.at]));
    const said = words ? [`${label} ${words[this.at]}`.trim()] : [];
    return `${place[0].toUpperCase()}${place.slice(1)}: ${[...said, ...values].join(", ")}.`;
  }

  valueWords(column) {
    const unit = column.unit ? ` ${column.unit}` : "";
    const value = column.written?.[this.at] ?? written(column.values[this.at]);
    const other = this.changed?.values[column.name]?.[this.at];
    const after = other === undefined ? "" : ` (${written(other)} with the change)`;
    return `${column.label} ${value}${unit}${after}`;
  }
}

function gainWords(seconds) {
  return `${Math.abs(seconds).toFixed(2)} s ${seconds < 0 ? "lost" : "gained"} so far with the change`;
}

function written(value) {
  return String(value).replace("-", "\u2212");
}

function nearest(places, place) {
  let low = 0;
  let high = places.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (places[middle] > place) high = middle;
    else low = middle;
  }
  return place - places[low] <= places[high] - place ? low : high;
}

// A page whose answer was worked out anew elsewhere is shown anew; what was set stays in its address.
const basis = document.querySelector("[data-basis]")?.dataset.basis;
document.addEventListener("tintop:fresh", () => {
  const now = document.querySelector("[data-basis]")?.dataset.basis;
  if (now !== undefined && now !== basis) location.reload();
});

for (const group of document.querySelectorAll("[data-readings]")) {
  fetch(group.dataset.readings, { headers: { Accept: "application/json" } })
    .then(answer => (answer.ok ? answer.json() : null))
    .then(readings => {
      if (!readings) return;
      new Cursor(group, readings);
      document.dispatchEvent(new CustomEvent("strips-ready"));
    })
    .catch(() => {}); // without a connection the charts stand, only without their cursor
}
