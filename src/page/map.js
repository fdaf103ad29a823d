// The map: outlines on a canvas, coloured by a measure. Longitudes and latitudes become
// metres by Mercator's projection, true at the middle of the portfolio.
const map = (() => {
  const canvas = byId("canvas");
  const tip = byId("tip");
  const paint = canvas.getContext("2d");
  const view = { x: 0, y: 0, scale: 1 }; // middle, m; pixels a metre
  const MARK = 7; // px: the least that a roof is drawn with
  const hooks = { choose() {}, hover() {}, step() {}, area() {} };
  let width = 0;
  let height = 0;
  let measure = null;
  let order = [];
  let asked = false;
  let shown = () => true;
  let chosen = null;
  let hovered = null;
  let chosenArea = null;
  let hatch = null;
  let touched = false; // somebody moved the map

  // ---- places ----
  const placed = roofs.filter((roof) => roof.origin && roof.rings.length);
  const radians = (degrees) => degrees * Math.PI / 180;
  const stretched = (lat) => Math.log(Math.tan(Math.PI / 4 + radians(lat) / 2));
  const first = placed.length ? placed[0].origin : [0, 0];
  const turn = (lon) => ((lon - first[0] + 540) % 360) - 180;
  const middle = median(placed.map((roof) => roof.origin[1])) || 0;
  const unit = 6371008.8 * Math.cos(radians(middle));
  const boundsOf = () => ({ left: Infinity, right: -Infinity, bottom: Infinity,
    top: -Infinity });

  function place(roof) {
    const east = unit * radians(turn(roof.origin[0]));
    const north = unit * (stretched(roof.origin[1]) - stretched(middle));
    const grow = Math.cos(radians(middle)) / Math.cos(radians(roof.origin[1]));
    const box = boundsOf();
    roof.world = roof.rings.map((ring) => {
      const points = new Float64Array(ring.length);
      for (let i = 0; i < ring.length; i += 2) {
        points[i] = east + ring[i] * grow;
        points[i + 1] = north + ring[i + 1] * grow;
        box.left = Math.min(box.left, points[i]);
        box.right = Math.max(box.right, points[i]);
        box.bottom = Math.min(box.bottom, points[i + 1]);
        box.top = Math.max(box.top, points[i + 1]);
      }
      return points;
    });
    roof.box = box;
  }
  placed.forEach(place);

  function placeArea(area) {
    const points = new Float64Array(area.lonlat.length);
    const box = boundsOf();
    for (let i = 0; i < points.length; i += 2) {
      points[i] = unit * radians(turn(area.lonlat[i]));
      points[i + 1] = unit * (stretched(area.lonlat[i + 1]) - stretched(middle));
      box.left = Math.min(box.left, points[i]);
      box.right = Math.max(box.right, points[i]);
      box.bottom = Math.min(box.bottom, points[i + 1]);
      box.top = Math.max(box.top, points[i + 1]);
    }
    area.world = [points];
    area.box = box;
  }
  const fields = areas.all.filter((area) => area.lonlat.length);
  fields.forEach(placeArea);

  const buildings = new Map();
  for (const roof of placed) {
    const name = roof.building || roofLabel(roof);
    const box = buildings.get(name) || boundsOf();
    box.left = Math.min(box.left, roof.box.left);
    box.right = Math.max(box.right, roof.box.right);
    box.bottom = Math.min(box.bottom, roof.box.bottom);
    box.top = Math.max(box.top, roof.box.top);
    buildings.set(name, box);
  }

  const toX = (x) => width / 2 + (x - view.x) * view.scale;
  const toY = (y) => height / 2 - (y - view.y) * view.scale;

  function fit(boxes, margin = 28, most = 4) {
    const all = boundsOf();
    for (const box of boxes) {
      all.left = Math.min(all.left, box.left);
      all.right = Math.max(all.right, box.right);
      all.bottom = Math.min(all.bottom, box.bottom);
      all.top = Math.max(all.top, box.top);
    }
    if (!(all.right >= all.left)) return;
    view.x = (all.left + all.right) / 2;
    view.y = (all.bottom + all.top) / 2;
    view.scale = Math.min(most, (width - 2 * margin) / Math.max(all.right - all.left, 1),
      (height - 2 * margin) / Math.max(all.top - all.bottom, 1));
    ask();
  }

  function fitAll() {
    touched = false;
    fit((fields.length ? fields : placed).map(({ box }) => box));
  }

  // ---- drawing ----
  function makeHatch() {
    const tile = document.createElement("canvas");
    tile.width = tile.height = 8;
    const pen = tile.getContext("2d");
    pen.fillStyle = TONES[4];
    pen.fillRect(0, 0, 8, 8);
    pen.strokeStyle = "#a9c4d6";
    pen.lineWidth = 1.4;
    for (const shift of [-8, 0, 8]) {
      pen.moveTo(shift - 1, 9);
      pen.lineTo(shift + 9, -1);
    }
    pen.stroke();
    return paint.createPattern(tile, "repeat");
  }

  function fillOf(roof) {
    const index = measure.classOf(roof);
    if (index < 0) return "#ffffff";
    const tone = measure.toneOf(index);
    return tone === TONES.length - 1 && measure.count > 1 ? hatch : TONES[tone];
  }

  function trace(roof) {
    paint.beginPath();
    for (const ring of roof.world) {
      for (let i = 0; i < ring.length; i += 2) {
        if (i === 0) paint.moveTo(toX(ring[0]), toY(ring[1]));
        else paint.lineTo(toX(ring[i]), toY(ring[i + 1]));
      }
      paint.closePath();
    }
  }

  const isMark = (roof) => Math.max(roof.box.right - roof.box.left,
    roof.box.top - roof.box.bottom) * view.scale < MARK;
  // Over squares, a roof is drawn once it is more than a dot.
  const isFar = (roof) => fields.length > 0 && isMark(roof);
  const isVisible = ({ box }) => toX(box.right) > -MARK && toX(box.left) < width + MARK &&
    toY(box.bottom) > -MARK && toY(box.top) < height + MARK;
  const centre = ({ box }) => [toX((box.left + box.right) / 2),
    toY((box.bottom + box.top) / 2)];

  function triangle(x, y, size) {
    paint.beginPath();
    paint.moveTo(x, y - size);
    paint.lineTo(x + size, y + size * 0.8);
    paint.lineTo(x - size, y + size * 0.8);
    paint.closePath();
  }

  function traceRoof(roof) {
    if (!isMark(roof)) {
      trace(roof);
      return;
    }
    const [x, y] = centre(roof);
    if (roof.state === "not met") triangle(x, y, MARK * 0.75);
    else {
      paint.beginPath();
      paint.arc(x, y, MARK / 2, 0, 2 * Math.PI);
    }
  }

  function drawArea(area) {
    trace(area);
    paint.fillStyle = fillOf(area);
    paint.fill();
    paint.strokeStyle = area === chosenArea ? ACCENT : PAPER;
    paint.lineWidth = area === chosenArea ? 4 : 0.8;
    paint.stroke();
  }

  // Where Enter opens the square.
  function drawCross() {
    if (!fields.length || !canvas.matches(":focus-visible")) return;
    paint.beginPath();
    paint.moveTo(width / 2 - 8, height / 2);
    paint.lineTo(width / 2 + 8, height / 2);
    paint.moveTo(width / 2, height / 2 - 8);
    paint.lineTo(width / 2, height / 2 + 8);
    paint.strokeStyle = ACCENT;
    paint.lineWidth = 2;
    paint.stroke();
  }

  function drawRoof(roof) {
    const on = shown(roof);
    paint.globalAlpha = on ? 1 : 0.18;
    paint.fillStyle = fields.length ? "#ffffff" : fillOf(roof);
    paint.strokeStyle = INK;
    paint.lineWidth = 0.8;
    paint.setLineDash(!fields.length && measure.classOf(roof) < 0 ? [2, 2] : []);
    traceRoof(roof);
    paint.fill("evenodd");
    paint.stroke();
    paint.setLineDash([]);
    paint.globalAlpha = 1;
  }

  function ring(roof, colour, lineWidth) {
    traceRoof(roof);
    paint.strokeStyle = "#ffffff";
    paint.lineWidth = lineWidth + 3;
    paint.stroke();
    paint.strokeStyle = colour;
    paint.lineWidth = lineWidth;
    paint.stroke();
  }

  // A triangle with a stroke in it: this roof's attachment isn't met.
  function drawWarning(roof) {
    const [x, y] = centre(roof);
    triangle(x, y, 7);
    paint.fillStyle = "#ffffff";
    paint.strokeStyle = INK;
    paint.lineWidth = 1.5;
    paint.fill();
    paint.stroke();
    paint.fillStyle = INK;
    paint.fillRect(x - 0.9, y - 3, 1.8, 4.5);
    paint.fillRect(x - 0.9, y + 2.6, 1.8, 1.8);
  }

  // Names where there is room: buildings from afar, roofs from near.
  function drawLabels() {
    const taken = [];
    const put = (text, x, y, bold) => {
      paint.font = `${bold ? "600 " : ""}12px system-ui, sans-serif`;
      const half = paint.measureText(text).width / 2 + 3;
      if (x - half < 2 || x + half > width - 2 || y < 12 || y > height - 6) return;
      if (taken.some((box) => Math.abs(box[0] - x) < box[1] + half &&
          Math.abs(box[2] - y) < 15)) return;
      taken.push([x, half, y]);
      paint.lineWidth = 3.5;
      paint.strokeStyle = "rgba(255,255,255,.92)";
      paint.fillStyle = INK;
      paint.textAlign = "center";
      paint.strokeText(text, x, y + 4);
      paint.fillText(text, x, y + 4);
    };
    for (const roof of placed) {
      const room = (roof.box.right - roof.box.left) * view.scale;
      if (room < 56 || !isVisible(roof) || !shown(roof)) continue;
      const [x, y] = centre(roof);
      put(roofLabel(roof), x, y + (roof.state === "not met" ? 17 : 0), false);
    }
    for (const [name, box] of buildings) {
      if ((box.right - box.left) * view.scale < 22) continue;
      put(name, toX((box.left + box.right) / 2), toY(box.bottom) + 12, true);
    }
  }

  function drawScale() {
    const foot = units.length === "ft" ? 0.3048 : 1;
    const mile = units.length === "ft" ? 5280 : 1000;
    let length = niceStep(70 / view.scale / foot);
    let words = `${number(length)} ${lengthUnit}`;
    if (length >= mile) {
      length = niceStep(length / mile) * mile;
      words = `${number(length / mile)} ${units.length === "ft" ? "mi" : "km"}`;
    }
    const span = length * foot * view.scale;
    paint.fillStyle = "rgba(253,252,249,.85)";
    paint.fillRect(8, height - 34, span + 46, 28);
    paint.strokeStyle = paint.fillStyle = INK;
    paint.lineWidth = 1.5;
    paint.beginPath();
    paint.moveTo(14, height - 18);
    paint.lineTo(14, height - 12);
    paint.lineTo(14 + span, height - 12);
    paint.lineTo(14 + span, height - 18);
    paint.moveTo(36 + span, height - 10);
    paint.lineTo(36 + span, height - 30);
    paint.moveTo(32 + span, height - 25);
    paint.lineTo(36 + span, height - 31);
    paint.lineTo(40 + span, height - 25);
    paint.stroke();
    paint.font = "12px system-ui, sans-serif";
    paint.textAlign = "left";
    paint.fillText(words, 18, height - 18);
    paint.fillText("N", 44 + span, height - 12);
  }

  function draw() {
    asked = false;
    if (!measure) return;
    const dots = canvas.width / Math.max(width, 1);
    // All of it, so that nothing of the last drawing shines through at the edges; a new
    // size forgets how lines are joined.
    paint.resetTransform();
    paint.fillStyle = PAPER;
    paint.fillRect(0, 0, canvas.width, canvas.height);
    paint.setTransform(dots, 0, 0, dots, 0, 0);
    paint.lineJoin = "round";
    for (const area of fields) if (isVisible(area)) drawArea(area);
    if (chosenArea && chosenArea.box) drawArea(chosenArea);
    for (const roof of order) if (isVisible(roof) && !isFar(roof)) drawRoof(roof);
    for (const roof of order)
      if (roof.state === "not met" && !isMark(roof) && shown(roof) && isVisible(roof))
        drawWarning(roof);
    if (hovered && hovered.box && !isFar(hovered)) ring(hovered, INK, 2);
    if (chosen && chosen.box) ring(chosen, ACCENT, 3);
    drawLabels();
    drawScale();
    drawCross();
  }

  function ask() {
    if (asked) return;
    asked = true;
    requestAnimationFrame(draw);
  }

  function resize() {
    if (screen) return;
    const box = canvas.parentElement.getBoundingClientRect();
    width = Math.max(box.width, 50);
    height = Math.max(box.height, 50);
    const dots = Math.max(window.devicePixelRatio || 1, 1);
    canvas.width = Math.round(width * dots);
    canvas.height = Math.round(height * dots);
    if (!touched) fitAll();
    draw();
  }

  // What is seen, on a sheet of a size of its own, fine enough to be printed.
  let screen = null;

  function setSize(wide, high, dots) {
    view.scale *= Math.min(wide / width, high / height);
    [width, height] = [wide, high];
    canvas.width = wide * dots;
    canvas.height = high * dots;
    draw();
  }

  function toPaper() {
    if (screen) return;
    screen = { ...view, width, height };
    setSize(720, 580, 3);
    if (!touched) fitAll();
    draw();
  }

  function fromPaper() {
    if (!screen) return;
    Object.assign(view, screen);
    ({ width, height } = screen);
    screen = null;
    resize();
  }

  // ---- what is where ----
  function contains(ring, x, y) {
    let inside = false;
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2)
      if ((ring[i + 1] > y) !== (ring[j + 1] > y) &&
          x < ring[i] + (y - ring[i + 1]) / (ring[j + 1] - ring[i + 1]) *
            (ring[j] - ring[i])) inside = !inside;
    return inside;
  }

  function roofAt(px, py, reach) {
    const x = view.x + (px - width / 2) / view.scale;
    const y = view.y - (py - height / 2) / view.scale;
    let near = null;
    let best = reach;
    for (let i = order.length - 1; i >= 0; i--) {
      const roof = order[i];
      if (!shown(roof) || isFar(roof)) continue;
      if (!isMark(roof) && roof.world.filter((each) => contains(each, x, y)).length % 2)
        return roof;
      const [cx, cy] = centre(roof);
      const distance = Math.hypot(cx - px, cy - py);
      if (isMark(roof) && distance < best) {
        best = distance;
        near = roof;
      }
    }
    return near;
  }

  function areaAt(px, py) {
    const x = view.x + (px - width / 2) / view.scale;
    const y = view.y - (py - height / 2) / view.scale;
    return fields.find((area) => contains(area.world[0], x, y)) || null;
  }

  // A roof of the table, else the square.
  function chooseAt(px, py, reach) {
    const roof = roofAt(px, py, reach);
    const area = roof ? null : areaAt(px, py);
    if (area) hooks.area(area);
    else hooks.choose(roof);
  }

  function showAreaTip(area, px, py) {
    tip.replaceChildren(
      element("b", {}, areas.title(area)),
      element("span", {}, plural(area.roofs, "roof", "roofs")),
      element("span", {}, `${measure.label}: ${known(area[measure.key])
        ? measure.text(area[measure.key]) : measure.none}`));
    placeTip(px, py);
  }

  function placeTip(px, py) {
    tip.hidden = false;
    const left = px > width / 2 ? px - tip.offsetWidth - 14 : px + 14;
    tip.style.left = `${Math.max(4, left)}px`;
    tip.style.top = `${Math.min(py + 12, height - tip.offsetHeight - 4)}px`;
  }

  function showTip(roof, px, py) {
    tip.hidden = !roof;
    if (!roof) return;
    tip.replaceChildren(
      element("b", {}, roofTitle(roof)),
      element("span", {}, roof.building || ""),
      element("span", {}, fields.length ? `rank ${number(roof.rank)} by ${roof.group}`
        : `${measure.label}: ${known(measure.valueOf(roof))
          ? measure.text(measure.valueOf(roof)) : measure.none}`),
      element("span", {}, `attachment ${roof.state}`));
    placeTip(px, py);
  }

  // ---- hands ----
  function zoom(factor, px = width / 2, py = height / 2) {
    touched = true;
    const scale = Math.min(Math.max(view.scale * factor, 1e-6), 60);
    view.x += (px - width / 2) * (1 / view.scale - 1 / scale);
    view.y -= (py - height / 2) * (1 / view.scale - 1 / scale);
    view.scale = scale;
    ask();
  }

  function pan(dx, dy) {
    touched = true;
    view.x -= dx / view.scale;
    view.y += dy / view.scale;
    ask();
  }

  const pointers = new Map();
  let moved = 0;

  const spot = (event) => {
    const box = canvas.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };

  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    pointers.set(event.pointerId, spot(event));
    moved = pointers.size > 1 ? 100 : 0;
  });

  canvas.addEventListener("pointermove", (event) => {
    const [x, y] = spot(event);
    const before = pointers.get(event.pointerId);
    if (!before) {
      const roof = roofAt(x, y, 9);
      const area = roof ? null : areaAt(x, y);
      setHovered(roof, x, y);
      if (area) showAreaTip(area, x, y);
      canvas.style.cursor = roof || area ? "pointer" : "grab";
      return;
    }
    const others = [...pointers].filter(([id]) => id !== event.pointerId);
    if (others.length) {
      const [ox, oy] = others[0][1];
      const grown = Math.hypot(x - ox, y - oy) /
        Math.max(Math.hypot(before[0] - ox, before[1] - oy), 1);
      zoom(grown, (x + ox) / 2, (y + oy) / 2);
      pan((x - before[0]) / 2, (y - before[1]) / 2);
    } else {
      pan(x - before[0], y - before[1]);
    }
    moved += Math.hypot(x - before[0], y - before[1]);
    pointers.set(event.pointerId, [x, y]);
  });

  function release(event) {
    if (!pointers.delete(event.pointerId) || event.type !== "pointerup") return;
    const [x, y] = spot(event);
    if (moved < 6 && pointers.size === 0)
      chooseAt(x, y, event.pointerType === "touch" ? 20 : 10);
  }
  canvas.addEventListener("pointerup", release);
  canvas.addEventListener("pointercancel", release);
  canvas.addEventListener("pointerleave", () => setHovered(null));

  // The wheel scrolls the page until the map has been chosen.
  canvas.addEventListener("wheel", (event) => {
    if (document.activeElement !== canvas && !event.ctrlKey) return;
    event.preventDefault();
    zoom(Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : 0.0016)), ...spot(event));
  }, { passive: false });

  const KEYS = { ArrowLeft: () => pan(60, 0), ArrowRight: () => pan(-60, 0),
    ArrowUp: () => pan(0, 60), ArrowDown: () => pan(0, -60), "+": () => zoom(1.5),
    "=": () => zoom(1.5), "-": () => zoom(1 / 1.5), "0": fitAll,
    Enter: () => chooseAt(width / 2, height / 2, 10), n: () => hooks.step(1), p: () => hooks.step(-1), Escape: () => hooks.choose(null) };
  canvas.addEventListener("keydown", (event) => {
    const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
    if (!KEYS[key] || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    KEYS[key]();
  });

  byId("zoom-in").addEventListener("click", () => zoom(1.5));
  byId("zoom-out").addEventListener("click", () => zoom(1 / 1.5));
  byId("zoom-all").addEventListener("click", fitAll);

  function setHovered(roof, x, y) {
    if (roof !== hovered) {
      hovered = roof;
      hooks.hover(roof);
      ask();
    }
    showTip(roof, x, y);
  }

  for (const event of ["focus", "blur"]) canvas.addEventListener(event, ask);
  new ResizeObserver(resize).observe(canvas.parentElement);
  hatch = makeHatch();

  return {
    hooks,
    view,
    fitAll,
    toPaper,
    fromPaper,
    setMeasure(chosenMeasure) {
      measure = chosenMeasure;
      const value = (roof) => known(roof[measure.key])
        ? (measure.reversed ? -1 : 1) * roof[measure.key] : -Infinity;
      order = [...placed].sort((a, b) => value(a) - value(b) || b.index - a.index);
      ask();
    },
    setShown(test) {
      shown = test;
      ask();
    },
    // Brings the roof into view where it isn't.
    choose(roof, bring) {
      chosen = roof;
      if (bring && roof && roof.box) {
        const [x, y] = centre(roof);
        if (x < 30 || y < 30 || x > width - 30 || y > height - 30) {
          view.x = (roof.box.left + roof.box.right) / 2;
          view.y = (roof.box.bottom + roof.box.top) / 2;
        }
      }
      ask();
    },
    fitArea({ box }) {
      touched = true;
      fit([box]);
    },
    chooseArea(area) {
      chosenArea = area;
      ask();
    },
    hover(roof) {
      hovered = roof;
      ask();
    },
  };
})();
