// Draws the pictures of an answer. The data stand in the page; nothing is fetched.
(() => {
  'use strict';
  const pictures = JSON.parse(document.getElementById('pictures').textContent);
  const dayMs = 24 * 3600 * 1000;
  const dated = d3.time.format.utc('%-d %b');
  const beyond = ['', 'short', 'wilting', 'dry'];
  const shown = (value) => String(+value.toPrecision(3));
  const clock = (minute) => {
    const whole = Math.round(minute);
    return String(Math.floor(whole / 60)).padStart(2, '0') + ':' + String(whole % 60).padStart(2, '0');
  };

  function el(parent, name, text, attributes) {
    const one = document.createElement(name);
    if (text !== undefined && text !== null) one.textContent = text;
    for (const [key, value] of Object.entries(attributes || {})) one.setAttribute(key, value);
    parent.appendChild(one);
    return one;
  }

  // A drawing as wide as its place, one unit a pixel, so that letters stay readable on a phone.
  function canvas(holder, height, says) {
    const width = Math.max(300, Math.min(holder.clientWidth || 960, 1060));
    const svg = d3.select(holder).append('svg').attr('viewBox', `0 0 ${width} ${height}`)
      .attr('role', 'img').attr('aria-label', says);
    return { svg, width, narrow: width < 560 };
  }
  function line(svg, kind, x1, y1, x2, y2) {
    return svg.append('line').attr('class', kind).attr('x1', x1).attr('y1', y1).attr('x2', x2).attr('y2', y2);
  }
  function words(svg, x, y, text, anchor) {
    return svg.append('text').attr('x', x).attr('y', y).attr('text-anchor', anchor || 'start').text(text);
  }
  function axis(svg, scale, side, x, y, ticks, format) {
    const one = d3.svg.axis().scale(scale).orient(side).ticks(ticks).outerTickSize(0);
    if (format) one.tickFormat(format);
    svg.append('g').attr('class', 'axis').attr('transform', `translate(${x},${y})`).call(one);
  }
  // A cross for wilting, a square for dry, a hollow circle for short: shapes, not colours.
  function mark(svg, state, x, y) {
    const shapes = ['', 'm-3.5,0a3.5,3.5 0 1 0 7,0a3.5,3.5 0 1 0 -7,0', 'm-4,-4l8,8m0,-8l-8,8', 'm-4,-4h8v8h-8z'];
    return svg.append('path').attr('class', 'mark state' + state).attr('d', `M${x},${y}${shapes[state]}`);
  }

  // The table behind a picture, made when it is opened.
  function figures(holder, title, heads, rows) {
    const details = el(holder, 'details');
    el(details, 'summary', 'The figures of this picture');
    details.addEventListener('toggle', () => {
      if (!details.open || details.querySelector('table')) return;
      const scroll = el(details, 'div', null, { 'class': 'scroll', tabindex: '0', role: 'region', 'aria-label': 'figures: ' + title });
      const table = el(scroll, 'table');
      const head = el(el(table, 'thead'), 'tr');
      heads.forEach((text, i) => el(head, text ? 'th' : 'td', text, text ? { scope: 'col', 'class': i ? '' : 'text' } : {}));
      const body = el(table, 'tbody');
      for (const row of rows()) {
        const tr = el(body, 'tr');
        row.forEach((cell, i) => el(tr, i ? 'td' : 'th', cell === null || cell === undefined ? '' : String(cell),
          i ? { 'class': typeof cell === 'string' ? 'text' : '' } : { scope: 'row', 'class': 'text' }));
      }
    });
  }

  const short = (text, letters) => text.length > letters ? text.slice(0, letters - 1) + '…' : text;

  // How long, how many, when: a dot for the value, a bar from low to high, words beside it.
  function ranges(figure, p) {
    const most = 40;
    const rows = p.rows.slice(0, most);
    const holder = el(figure, 'div');
    const narrow = holder.clientWidth < 560;
    const row = narrow ? 40 : 26;
    const height = rows.length * row + 44;
    const c = canvas(holder, height, p.title + '. ' + p.says);
    const letter = 6.9;
    const longest = d3.max(rows, (r) => r.label.length) * letter + 24;
    const left = narrow ? (p.from ? 24 : 12) : Math.min(Math.max(longest, 270), 390);
    const right = c.width - (narrow ? 14 : 190);
    const bottom = rows.length * row + 4;
    const all = rows.flatMap((r) => [r.value, r.low, r.high].concat(r.marks.map((m) => m[0]))).filter((v) => v !== undefined);
    const x = d3.scale.linear().domain([0, d3.max(all) || 1]).range([left, right]);
    if (!p.from) x.nice();
    const date = (v) => dated(new Date(Date.parse(p.from + 'T00:00:00Z') + v * dayMs));
    rows.forEach((r, i) => {
      const top = i * row;
      const y = top + (narrow ? 27 : row / 2);
      if (i % 2) c.svg.append('rect').attr('class', 'band').attr('x', 0).attr('y', top).attr('width', c.width).attr('height', row);
      if (narrow) {
        const room = Math.floor((c.width - 30) / 6.6) - r.text.length;
        words(c.svg, left, top + 14, short(r.label, Math.max(room, 12)));
        words(c.svg, c.width - 4, top + 14, r.text, 'end');
      }
      else words(c.svg, left - 10, y + 4, short(r.label, Math.floor((left - 20) / letter)), 'end');
      line(c.svg, 'base', left, y, right, y);
      if (r.low !== undefined) {
        const open = r.high === undefined;
        line(c.svg, 'span', x(r.low), y, open ? right : x(r.high), y);
        if (open) c.svg.append('path').attr('class', 'dot').attr('d', `M${right},${y - 5}l8,5l-8,5z`);
      }
      if (r.value !== undefined) c.svg.append('circle').attr('class', 'dot').attr('cx', x(r.value)).attr('cy', y).attr('r', 4.5);
      for (const [at, what] of r.marks) {
        if (what === 'visit') line(c.svg, 'visit', x(at), y - 8, x(at), y + 8);
        else mark(c.svg, 3, x(at), y);
      }
      if (narrow) return;
      const end = Math.max(left, ...[r.value, r.high].concat(r.marks.map((m) => m[0])).filter((v) => v !== undefined).map(x), r.low !== undefined && r.high === undefined ? right + 4 : left);
      const at = (p.from ? right + 4 : end) + 10;
      words(c.svg, at, y + 4, short(r.text, Math.floor((c.width - at) / 6.5)));
    });
    axis(c.svg, x, 'bottom', 0, bottom, c.narrow ? 4 : 8, p.from ? date : undefined);
    if (p.unit) words(c.svg, right, bottom + 36, p.unit, 'end');
    if (p.rows.length > most) el(figure, 'p', `${p.rows.length - most} more are in the figures below.`);
    const at = (v) => v === undefined ? null : p.from ? `${date(v)} ${clock((v % 1) * 1440)}` : v;
    figures(figure, p.title, ['', p.unit || 'middle', 'low', 'high', 'in words'],
      () => p.rows.map((r) => [r.label, at(r.value), at(r.low), at(r.high),
        [r.text].concat(r.marks.map((m) => `${m[1]} ${at(m[0])}`)).filter((t) => t).join('; ')]));
  }

  // Bars side by side: the first kind is filled, the second an outline with stripes; each bar has its number.
  function bars(figure, p) {
    const holder = el(figure, 'div');
    const top = 20, bottom = 230;
    const turned = p.categories.length > 14;
    const height = bottom + (turned ? 58 : 26) + 22 * p.series.length;
    const c = canvas(holder, height, p.title + '. ' + p.says);
    const x = d3.scale.ordinal().domain(p.categories).rangeRoundBands([46, c.width - 4], 0.25, 0.05);
    const most = d3.max(p.series, (s) => d3.max(s.values)) || 1;
    const least = Math.min(0, d3.min(p.series, (s) => d3.min(s.values)));
    const y = d3.scale.linear().domain([least, most]).range([bottom, top]).nice();
    const stripes = c.svg.append('defs').append('pattern').attr('id', 'stripes-' + figure.id).attr('width', 5).attr('height', 5)
      .attr('patternUnits', 'userSpaceOnUse').attr('patternTransform', 'rotate(45)');
    line(stripes, 'stripe', 0, 0, 0, 5);
    axis(c.svg, y, 'left', 46, 0, 5);
    axis(c.svg, x, 'bottom', 0, bottom);
    if (turned) c.svg.selectAll('.axis:last-of-type text').attr('transform', 'rotate(-60)').attr('dx', '-1.6em').attr('dy', '0.1em').style('text-anchor', 'end');
    const each = x.rangeBand() / p.series.length;
    const paint = (one, k) => k % 2 ? one.attr('class', 'bar1').style('fill', `url(#stripes-${figure.id})`) : one.attr('class', 'bar0');
    p.series.forEach((s, k) => {
      s.values.forEach((v, i) => {
        const at = x(p.categories[i]) + k * each;
        paint(c.svg.append('rect'), k).attr('x', at + 1).attr('width', Math.max(each - 2, 1)).attr('y', Math.min(y(v), y(0))).attr('height', Math.abs(y(0) - y(v)));
        if (each > 24) words(c.svg, at + each / 2, Math.min(y(v), y(0)) - 4, shown(v), 'middle');
      });
      const legend = height - 22 * (p.series.length - k) + 6;
      paint(c.svg.append('rect'), k).attr('x', 50).attr('y', legend).attr('width', 14).attr('height', 12);
      words(c.svg, 72, legend + 10, `${s.name}, ${p.unit}`);
    });
    figures(figure, p.title, ['when'].concat(p.series.map((s) => `${s.name}, ${p.unit}`)),
      () => p.categories.map((name, i) => [name].concat(p.series.map((s) => s.values[i]))));
  }

  // What a plant still finds in its pot, counted up from nothing: every day of the season, and by
  // the clock the days around the one chosen. One pot at a time.
  function water(figure, p) {
    const perDay = 9, stepMinutes = 180, dayMinutes = 1440;
    const amount = (thousandths) => thousandths / 1000;
    const said = (thousandths) => `${shown(amount(thousandths))} ${p.unit}`;
    const controls = el(figure, 'div', null, { 'class': 'controls' });
    // The pot with most trouble first.
    const trouble = p.pots.map((one) => one.states.replace(/[01]/g, '').length);
    const first = trouble.indexOf(d3.max(trouble));
    let pot = p.pots[first];
    if (p.pots.length > 1) {
      const label = el(controls, 'label', 'Pot ');
      const select = el(label, 'select');
      p.pots.forEach((one, i) => el(select, 'option', one.label, { value: i }));
      select.value = first;
      select.addEventListener('change', () => { pot = p.pots[+select.value]; draw(); });
    }
    const season = el(figure, 'div');
    const dayLabel = el(figure, 'label', 'Day ', { 'class': 'controls wide' });
    const slider = el(dayLabel, 'input', null, { type: 'range', min: 0, step: 1, value: 0 });
    const sentence = el(figure, 'p', '', { 'aria-live': 'polite' });
    const close = el(figure, 'div');
    el(figure, 'p', 'Circle: the plant runs short. Cross: leaves droop. Square: dry. The curve is solid while the plant has enough, '
      + 'dashed while it is short and dotted once it wilts. Ticks under the days: watered. Times are as the model has them; no plant is exact to the minute.', { 'class': 'quiet' });
    const behind = el(figure, 'div');

    const date = (i) => new Date(Date.parse(pot.first + 'T00:00:00Z') + i * dayMs);
    const count = () => pot.samples.length / perDay;
    // What of a list is on a day, sorted out once.
    const sorted = new WeakMap();
    function of(list, i) {
      if (!sorted.has(list)) {
        const days = new Map();
        for (const one of list) days.set(one[0], (days.get(one[0]) || []).concat([one]));
        sorted.set(list, days);
      }
      return sorted.get(list).get(i) || [];
    }
    function lowest(i) {
      return d3.min(pot.samples.slice(i * perDay, (i + 1) * perDay).concat(of(pot.pourings, i).map((g) => g[2])));
    }
    function highest(i) {
      return d3.max(pot.samples.slice(i * perDay, (i + 1) * perDay).concat(of(pot.pourings, i).map((g) => g[3])));
    }
    function worst(i) {
      return d3.max(pot.states.slice(i * perDay, (i + 1) * perDay).split('').map(Number).concat(of(pot.crossings, i).map((k) => k[3])));
    }
    function happened(i) {
      const rain = of(pot.rain, i).map((r) => [0, `rain ${said(r[1])}`]);
      const poured = of(pot.pourings, i).map((g) => [g[1], `watered ${said(g[4])} at ${clock(g[1])}`]);
      const crossed = of(pot.crossings, i).map((k) => [k[1], `${beyond[k[3]]} from ${clock(k[1])}`]);
      const began = +pot.states[i * perDay];
      const all = rain.concat(poured, crossed).sort((a, b) => a[0] - b[0]).map((one) => one[1]);
      if (began) all.unshift(`${beyond[began]} since the day before`);
      return all.join('; ');
    }

    function drawSeason() {
      season.textContent = '';
      const n = count();
      const days = d3.range(n).map((i) => ({ low: lowest(i), high: highest(i), worst: worst(i) }));
      const top = 36, bottom = 176, height = 214;
      const c = canvas(season, height, `${pot.label}: water left, every day from its lowest to its highest. ${p.says}`);
      const x = d3.time.scale.utc().domain([date(0), date(n)]).range([50, c.width - 24]);
      const y = d3.scale.linear().domain([0, amount(d3.max(days, (d) => d.high)) || 1]).range([bottom, top]);
      const each = (c.width - 74) / n;
      axis(c.svg, y, 'left', 48, 0, 4);
      words(c.svg, 0, 12, `${p.unit} left`);
      const pouredOn = new Set(pot.pourings.map((g) => g[0]));
      days.forEach((d, i) => {
        const at = x(date(i));
        c.svg.append('rect').attr('class', 'high').attr('x', at).attr('width', Math.max(each - 0.6, 0.6)).attr('y', y(amount(d.high))).attr('height', bottom - y(amount(d.high)));
        c.svg.append('rect').attr('class', 'low').attr('x', at).attr('width', Math.max(each - 0.6, 0.6)).attr('y', y(amount(d.low))).attr('height', bottom - y(amount(d.low)));
        if (d.worst > 1) mark(c.svg, d.worst, at + each / 2, top - (d.worst === 3 ? 22 : 10));
        if (pouredOn.has(i)) line(c.svg, 'poured', at + each / 2, bottom + 2, at + each / 2, bottom + 8);
      });
      axis(c.svg, x, 'bottom', 0, bottom + 10, c.narrow ? 4 : 8, dated);
      const cursor = c.svg.append('rect').attr('class', 'cursor').attr('y', top - 28).attr('height', bottom - top + 38);
      c.svg.on('click', function () {
        const i = Math.floor((x.invert(d3.mouse(this)[0]) - date(0)) / dayMs);
        if (i >= 0 && i < n) { slider.value = i; choose(cursor, x); }
      });
      slider.max = n - 1;
      if (+slider.value === 0 || +slider.value > n - 1) {
        const bad = d3.max(days, (d) => d.worst);
        const fell = pot.crossings.filter((k) => k[3] === bad);
        slider.value = bad > 1 && fell.length ? fell[fell.length - 1][0] : Math.floor(n / 2);
      }
      slider.oninput = () => choose(cursor, x);
      choose(cursor, x);
    }

    function choose(cursor, x) {
      const i = +slider.value;
      const shownDays = close.clientWidth < 560 ? 2 : 4;
      const from = Math.max(0, Math.min(i - 1, count() - shownDays));
      const to = Math.min(from + shownDays, count());
      cursor.attr('x', x(date(from))).attr('width', Math.max(x(date(to)) - x(date(from)), 3));
      slider.setAttribute('aria-valuetext', dated(date(i)));
      const what = happened(i);
      sentence.textContent = `${dated(date(i))}: between ${said(lowest(i))} and ${said(highest(i))} left.`
        + (what ? ` ${what[0].toUpperCase()}${what.slice(1)}.` : '');
      drawHours(from, to);
    }

    function drawHours(from, to) {
      close.textContent = '';
      const lanes = 3, lane = 15, top = 24 + lanes * lane, bottom = top + 150, height = bottom + 76;
      const c = canvas(close, height, `${pot.label}, by the clock: ${d3.range(from, to).map((i) => `${dated(date(i))}: ${happened(i) || 'nothing happens'}`).join('. ')}`);
      const left = 48, right = c.width - 6;
      const x = d3.scale.linear().domain([from * dayMinutes, to * dayMinutes]).range([left, right]);
      const points = [];
      for (let i = from; i < to; ++i) {
        for (let k = 0; k < perDay; ++k) {
          points.push({ at: i * dayMinutes + k * stepMinutes, order: k === 0 ? 0 : 3, left: pot.samples[i * perDay + k], state: +pot.states[i * perDay + k] });
        }
        for (const k of of(pot.crossings, i)) points.push({ at: i * dayMinutes + k[1], order: 0, left: k[2], state: k[3] });
        for (const g of of(pot.pourings, i)) {
          points.push({ at: i * dayMinutes + g[1], order: 1, left: g[2] }, { at: i * dayMinutes + g[1], order: 2, left: g[3], state: g[5] });
        }
      }
      points.sort((a, b) => a.at - b.at || (a.at % dayMinutes === 0 && a.order === 3 ? -1 : b.at % dayMinutes === 0 && b.order === 3 ? 1 : a.order - b.order));
      points.forEach((one, i) => { if (one.state === undefined) one.state = i ? points[i - 1].state : 0; });
      const y = d3.scale.linear().domain([0, amount(d3.max(points, (one) => one.left)) * 1.02 || 1]).range([bottom, top]);
      axis(c.svg, y, 'left', left - 2, 0, 5);
      words(c.svg, 0, top - 8, p.unit);
      const hours = d3.range(from * 24, to * 24 + 1, c.narrow ? 12 : 6);
      axis(c.svg, x, 'bottom', 0, bottom, 0);
      hours.forEach((h) => {
        line(c.svg, h % 24 ? 'hour' : 'midnight', x(h * 60), top, x(h * 60), bottom + 4);
        if (h < to * 24) words(c.svg, x(h * 60), bottom + 16, clock((h % 24) * 60), h === from * 24 ? 'start' : 'middle');
      });
      for (let i = from; i < to; ++i) words(c.svg, x((i + 0.5) * dayMinutes), bottom + 70, dated(date(i)), 'middle').attr('class', 'day');
      const trace = d3.svg.line().x((one) => x(one.at)).y((one) => y(amount(one.left)));
      c.svg.append('path').attr('class', 'ground').attr('d', trace(points) + `V${bottom}H${left}Z`);
      for (let i = 1, begin = 0; i <= points.length; ++i) {
        if (i < points.length && points[i].state === points[begin].state) continue;
        c.svg.append('path').attr('class', 'curve state' + points[begin].state).attr('d', trace(points.slice(begin, Math.min(i + 1, points.length))));
        begin = i;
      }
      // Labels that would stand on one another are left to the sentence and the figures.
      const taken = {};
      const label = (row, at, y0, text) => {
        const half = text.length * 3.4;
        const middle = Math.min(Math.max(at, left + half), right - half);
        if ((taken[row] || -1e9) > middle - half) return;
        taken[row] = middle + half + 6;
        words(c.svg, middle, y0, text, 'middle').attr('class', 'label');
      };
      for (let i = from; i < to; ++i) {
        for (const k of of(pot.crossings, i)) {
          const at = x(i * dayMinutes + k[1]), y0 = 24 + (k[3] - 1) * lane;
          line(c.svg, 'leader', at, y0 + 3, at, y(amount(k[2])));
          mark(c.svg, k[3], at, y(amount(k[2])));
          label('lane' + k[3], at, y0, `${beyond[k[3]]} ${clock(k[1])}`);
        }
        for (const g of of(pot.pourings, i)) {
          const at = x(i * dayMinutes + g[1]);
          line(c.svg, 'poured', at, bottom, at, bottom + 6);
          label('poured', at, bottom + 34, c.narrow ? `+${shown(amount(g[4]))} at ${clock(g[1])}` : `watered ${said(g[4])} ${clock(g[1])}`);
        }
        for (const r of of(pot.rain, i)) {
          line(c.svg, 'rain', x(i * dayMinutes), bottom, x(i * dayMinutes), bottom + 6);
          label('rain', x(i * dayMinutes), bottom + 50, `rain ${said(r[1])}`);
        }
      }
    }

    function draw() {
      drawSeason();
      behind.textContent = '';
      const one = pot;
      figures(behind, p.title, ['day', `lowest left, ${p.unit}`, `highest left, ${p.unit}`, `watered, ${p.unit}`, `rain, ${p.unit}`, 'what happened'],
        () => d3.range(count()).map((i) => [dated(date(i)), amount(lowest(i)), amount(highest(i)),
          amount(d3.sum(of(one.pourings, i), (g) => g[4])), amount(d3.sum(of(one.rain, i), (r) => r[1])), happened(i)]));
    }
    draw();
  }

  // Weights of a pot beside those of its account: a line that falls and is set right, a dot a weight.
  function weights(figure, p) {
    const controls = el(figure, 'div', null, { 'class': 'controls' });
    const holder = el(figure, 'div');
    el(figure, 'p', 'Dot: weighed. Cross: does not fit the others. Line: the account, set right at each weight and lifted where you watered. '
      + 'Upright bar: where 9 in 10 weights were to be expected.', { 'class': 'quiet' });
    const behind = el(figure, 'div');
    const wrong = p.pots.map((one) => one.points.filter((q) => q.outlies).length);
    let pot = p.pots[wrong.indexOf(d3.max(wrong))];
    if (p.pots.length > 1) {
      const select = el(el(controls, 'label', 'Pot '), 'select');
      p.pots.forEach((one, i) => el(select, 'option', one.label, { value: i }));
      select.value = p.pots.indexOf(pot);
      select.addEventListener('change', () => { pot = p.pots[+select.value]; draw(); });
    }
    const date = (days) => new Date(Date.parse(pot.first + 'T00:00:00Z') + days * dayMs);
    const when = (days) => `${dated(date(days))} ${clock((days % 1) * 1440)}`;

    function draw() {
      holder.textContent = behind.textContent = '';
      const points = pot.points;
      const weighed = points.filter((q) => q.weighed !== undefined);
      const outlying = weighed.filter((q) => q.outlies);
      const top = 24, bottom = 250;
      const c = canvas(holder, bottom + 34, `${pot.label}: ${weighed.length} weights; `
        + (outlying.length ? `not fitting: ${outlying.map((q) => when(q.at)).join(', ')}. ` : 'all fit. ') + p.says);
      const all = points.flatMap((q) => [q.foretold, q.then]).concat(weighed.flatMap((q) => [q.weighed, q.low, q.high]));
      const x = d3.time.scale.utc().domain([date(points[0].at), date(points[points.length - 1].at)]).range([56, c.width - 16]);
      const y = d3.scale.linear().domain(d3.extent(all)).range([bottom, top]).nice();
      axis(c.svg, y, 'left', 46, 0, 6);
      axis(c.svg, x, 'bottom', 0, bottom + 8, c.narrow ? 4 : 8, dated);
      words(c.svg, 0, 12, p.unit);
      for (const q of weighed) line(c.svg, 'span thin', x(date(q.at)), y(q.low), x(date(q.at)), y(q.high));
      const trace = d3.svg.line().x((one) => x(date(one[0]))).y((one) => y(one[1]));
      c.svg.append('path').attr('class', 'curve fine').attr('d', trace(points.flatMap((q) => [[q.at, q.foretold], [q.at, q.then]])));
      for (const q of weighed) {
        if (q.outlies) mark(c.svg, 2, x(date(q.at)), y(q.weighed));
        else c.svg.append('circle').attr('class', 'dot').attr('cx', x(date(q.at))).attr('cy', y(q.weighed)).attr('r', 3);
      }
      figures(behind, p.title, ['when', `weighed, ${p.unit}`, `foretold, ${p.unit}`, 'low', 'high', 'fits'],
        () => weighed.map((q) => [when(q.at), q.weighed, q.foretold, q.low, q.high, q.outlies ? 'no' : 'yes']));
    }
    draw();
  }

  // A chart of words: one cell for each row and column.
  function grid(figure, p) {
    const holder = el(figure, 'div', null, { 'class': 'scroll grid', tabindex: '0', role: 'region', 'aria-label': p.title });
    const table = el(holder, 'table');
    const head = el(el(table, 'thead'), 'tr');
    p.columns.forEach((text) => el(head, 'th', text, { scope: 'col', 'class': 'text' }));
    const body = el(table, 'tbody');
    for (const row of p.rows) {
      const tr = el(body, 'tr');
      row.forEach((cell, i) => el(tr, i ? 'td' : 'th', cell, i ? {} : { scope: 'row', 'class': 'text' }));
    }
  }

  // A sheet to print, with boxes to tick.
  function sheet(figure, p) {
    const holder = el(figure, 'div', null, { 'class': 'sheet' });
    for (const group of p.groups) {
      const part = el(holder, 'div', null, { 'class': 'visit' });
      el(part, 'h3', group.heading);
      const list = el(part, 'ul');
      for (const text of group.lines) {
        const label = el(el(list, 'li'), 'label');
        el(label, 'input', null, { type: 'checkbox' });
        el(label, 'span', text);
      }
    }
  }

  const kinds = { ranges, bars, water, weights, grid, sheet };
  pictures.forEach((p, i) => kinds[p.kind](document.getElementById('picture-' + i), p));
})();
