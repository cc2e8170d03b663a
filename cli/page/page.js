// Draws the pictures of an answer. The data stand in the page; nothing is fetched.
(function () {
  'use strict';
  var pictures = JSON.parse(document.getElementById('pictures').textContent);
  var day = 24 * 3600 * 1000;
  var dated = d3.time.format.utc('%-d %b');
  var wide = 960;

  function el(parent, name, text, attributes) {
    var one = document.createElement(name);
    if (text !== undefined && text !== null) one.textContent = text;
    Object.keys(attributes || {}).forEach(function (key) { one.setAttribute(key, attributes[key]); });
    parent.appendChild(one);
    return one;
  }
  function canvas(figure, height, says) {
    var narrow = figure.clientWidth < 560;
    var width = narrow ? 480 : wide;
    var svg = d3.select(figure).append('svg').attr('viewBox', '0 0 ' + width + ' ' + height)
      .attr('role', 'img').attr('aria-label', says);
    svg.append('title').text(says);
    return { svg: svg, width: width, narrow: narrow };
  }
  function figures(figure, heads, rows) {
    var details = el(figure, 'details');
    el(details, 'summary', 'The figures of this picture');
    var holder = el(details, 'div', null, { 'class': 'scroll', tabindex: '0', role: 'region', 'aria-label': 'figures' });
    var table = el(holder, 'table');
    var head = el(el(table, 'thead'), 'tr');
    heads.forEach(function (text, i) { el(head, 'th', text, { scope: 'col', 'class': i ? '' : 'text' }); });
    var body = el(table, 'tbody');
    rows.forEach(function (row) {
      var line = el(body, 'tr');
      row.forEach(function (cell, i) { el(line, i ? 'td' : 'th', cell === null ? '' : String(cell), i ? {} : { scope: 'row', 'class': 'text' }); });
    });
  }

  // How long, how many: a dot for the value, a bar from low to high, the number beside it.
  function ranges(figure, p) {
    var row = 24;
    var c = canvas(figure, p.rows.length * row + 40, p.says);
    var left = c.narrow ? 170 : 300;
    var right = c.width - 110;
    var most = d3.max(p.rows, function (r) { return Math.max(r.value || 0, r.high || 0); }) || 1;
    var x = d3.scale.linear().domain([0, most]).range([left, right]).nice();
    c.svg.append('g').attr('class', 'axis').attr('transform', 'translate(0,' + (p.rows.length * row + 6) + ')')
      .call(d3.svg.axis().scale(x).ticks(c.narrow ? 4 : 8).orient('bottom'));
    p.rows.forEach(function (r, i) {
      var y = i * row + row / 2;
      if (i % 2) c.svg.append('rect').attr('class', 'band').attr('x', 0).attr('y', i * row).attr('width', c.width).attr('height', row);
      var most_letters = c.narrow ? 26 : 46;
      var label = c.svg.append('text').attr('x', left - 8).attr('y', y + 4).attr('text-anchor', 'end')
        .text(r.label.length > most_letters ? r.label.slice(0, most_letters - 1) + '…' : r.label);
      label.append('title').text(r.label);
      if (r.low !== undefined) {
        c.svg.append('line').attr('class', 'span').attr('x1', x(r.low)).attr('x2', x(r.high)).attr('y1', y).attr('y2', y);
      }
      if (r.value !== undefined) c.svg.append('circle').attr('class', 'dot').attr('cx', x(r.value)).attr('cy', y).attr('r', 4.5);
      var end = x(Math.max(r.value || 0, r.high || 0));
      c.svg.append('text').attr('x', end + 10).attr('y', y + 4).text(r.text);
    });
    c.svg.append('text').attr('x', right).attr('y', p.rows.length * row + 38).attr('text-anchor', 'end').text(p.unit);
    figures(figure, ['', p.unit, 'low', 'high', ''], p.rows.map(function (r) {
      return [r.label, r.value === undefined ? null : r.value, r.low === undefined ? null : r.low, r.high === undefined ? null : r.high, r.text];
    }));
  }

  // Bars side by side; the second kind is an outline, and each bar carries its number.
  function bars(figure, p) {
    var height = 300, top = 24, bottom = 250;
    var c = canvas(figure, height, p.says);
    var x = d3.scale.ordinal().domain(p.categories).rangeRoundBands([46, c.width - 10], 0.25);
    var most = d3.max(p.series, function (s) { return d3.max(s.values); }) || 1;
    var y = d3.scale.linear().domain([0, most]).range([bottom, top]).nice();
    c.svg.append('g').attr('class', 'axis').attr('transform', 'translate(46,0)').call(d3.svg.axis().scale(y).orient('left').ticks(5));
    c.svg.append('g').attr('class', 'axis').attr('transform', 'translate(0,' + bottom + ')').call(d3.svg.axis().scale(x).orient('bottom'));
    var each = x.rangeBand() / p.series.length;
    p.series.forEach(function (s, k) {
      s.values.forEach(function (v, i) {
        var at = x(p.categories[i]) + k * each;
        c.svg.append('rect').attr('class', 'bar' + (k % 2)).attr('x', at + 1).attr('width', Math.max(each - 3, 1)).attr('y', y(v)).attr('height', bottom - y(v));
        c.svg.append('text').attr('x', at + each / 2).attr('y', y(v) - 4).attr('text-anchor', 'middle').text(v ? d3.round(v, v < 10 ? 1 : 0) : '');
      });
      c.svg.append('rect').attr('class', 'bar' + (k % 2)).attr('x', 50 + k * 200).attr('y', height - 16).attr('width', 12).attr('height', 12);
      c.svg.append('text').attr('x', 68 + k * 200).attr('y', height - 6).text(s.name + ' (' + p.unit + ')');
    });
    figures(figure, [''].concat(p.series.map(function (s) { return s.name + ', ' + p.unit; })),
      p.categories.map(function (name, i) { return [name].concat(p.series.map(function (s) { return d3.round(s.values[i], 2); })); }));
  }

  // What a plant still finds in its pot, counted up from nothing, one pot at a time.
  function levels(figure, p) {
    var controls = el(figure, 'p', null, { 'class': 'controls' });
    var chosen = 0;
    if (p.pots.length > 1) {
      var label = el(controls, 'label', 'Pot ');
      var select = el(label, 'select');
      p.pots.forEach(function (pot, i) { el(select, 'option', pot.label, { value: i }); });
      select.addEventListener('change', function () { chosen = +select.value; draw(); });
    }
    var holder = el(figure, 'div');
    var slider_label = el(figure, 'label', 'A day ', { 'class': 'controls' });
    var slider = el(slider_label, 'input', null, { type: 'range', min: 0, step: 1, value: 0 });
    var said = el(figure, 'p', '', { 'aria-live': 'polite', 'class': 'controls' });
    var details_at = el(figure, 'div');

    function date(pot, i) { return new Date(Date.parse(pot.first + 'T00:00:00Z') + i * day); }
    function sentence(pot, i) {
      var text = dated(date(pot, i)) + ': ' + pot.level[i] + ' ' + p.unit + ' of ' + pot.full + ' left at the end of the day';
      if (pot.gave[i]) text += '; watered ' + pot.gave[i] + ' ' + p.unit;
      if (pot.rain[i]) text += '; rain ' + pot.rain[i] + ' ' + p.unit;
      (pot.marks[i] || []).forEach(function (m) { text += '; ' + m; });
      return text + '.';
    }
    function draw() {
      holder.textContent = '';
      details_at.textContent = '';
      var pot = p.pots[chosen];
      var n = pot.level.length;
      var top = 30, bottom = 270, height = 330;
      var says = p.says + ' ' + pot.label + '.';
      var c = canvas(holder, height, says);
      var x = d3.time.scale.utc().domain([date(pot, 0), date(pot, n)]).range([46, c.width - 12]);
      var y = d3.scale.linear().domain([0, pot.full * 1.05]).range([bottom, top]);
      c.svg.append('g').attr('class', 'axis').attr('transform', 'translate(46,0)').call(d3.svg.axis().scale(y).orient('left').ticks(5));
      c.svg.append('g').attr('class', 'axis').attr('transform', 'translate(0,' + bottom + ')').call(d3.svg.axis().scale(x).orient('bottom').ticks(c.narrow ? 4 : 8).tickFormat(dated));
      c.svg.append('text').attr('x', 50).attr('y', 14).text(p.unit + ' that the plant can still draw');
      c.svg.append('line').attr('class', 'full').attr('x1', 46).attr('x2', c.width - 12).attr('y1', y(pot.full)).attr('y2', y(pot.full));
      var middle = function (_, i) { return x(date(pot, i + 1)); };
      c.svg.append('path').attr('class', 'area').attr('d', d3.svg.area().x(middle).y0(bottom).y1(function (v) { return y(Math.max(v, 0)); })(pot.level));
      c.svg.append('path').attr('class', 'needs').attr('d', d3.svg.line().x(middle).y(function (v) { return y(v); })(pot.needs));
      c.svg.append('path').attr('class', 'line').attr('d', d3.svg.line().x(middle).y(function (v) { return y(Math.max(v, 0)); })(pot.level));
      pot.gave.forEach(function (v, i) {
        if (!v) return;
        c.svg.append('line').attr('class', 'gave').attr('x1', x(date(pot, i + 0.5))).attr('x2', x(date(pot, i + 0.5))).attr('y1', bottom + 22).attr('y2', bottom + 30)
          .append('title').text(dated(date(pot, i)) + ': watered ' + v + ' ' + p.unit);
      });
      c.svg.append('text').attr('x', 46).attr('y', bottom + 44).text('ticks: watered · crosses: wilting, squares: dry · dashed: plants run short below');
      pot.state.forEach(function (s, i) {
        if (s < 2) return;
        var at = x(date(pot, i + 0.5)), where = top - 8;
        var mark = c.svg.append('path').attr('class', 'mark').attr('d', s === 2
          ? 'M' + (at - 4) + ',' + (where - 4) + 'l8,8m0,-8l-8,8'
          : 'M' + (at - 4) + ',' + (where - 4) + 'h8v8h-8z');
        mark.append('title').text(sentence(pot, i));
      });
      var cursor = c.svg.append('line').attr('class', 'cursor').attr('y1', top).attr('y2', bottom);
      slider.max = n - 1;
      if (+slider.value > n - 1) slider.value = 0;
      function show() {
        var i = +slider.value;
        cursor.attr('x1', x(date(pot, i + 1))).attr('x2', x(date(pot, i + 1)));
        said.textContent = sentence(pot, i);
      }
      slider.oninput = show;
      c.svg.on('mousemove', function () {
        var i = Math.round((x.invert(d3.mouse(this)[0]) - date(pot, 0)) / day) - 1;
        if (i < 0 || i >= n) return;
        slider.value = i;
        show();
      });
      show();
      figures(details_at, ['day', 'left at its end, ' + p.unit, 'short below', 'watered', 'rain', ''], pot.level.map(function (v, i) {
        return [dated(date(pot, i)), v, pot.needs[i], pot.gave[i] || null, pot.rain[i] || null, (pot.marks[i] || []).join('; ')];
      }));
    }
    draw();
  }

  // A chart of words: one cell for each row and column.
  function grid(figure, p) {
    var holder = el(figure, 'div', null, { 'class': 'scroll grid', tabindex: '0', role: 'region', 'aria-label': p.title });
    var table = el(holder, 'table');
    var head = el(el(table, 'thead'), 'tr');
    p.columns.forEach(function (text) { el(head, 'th', text, { scope: 'col', 'class': 'text' }); });
    var body = el(table, 'tbody');
    p.rows.forEach(function (row) {
      var line = el(body, 'tr');
      row.forEach(function (cell, i) { el(line, i ? 'td' : 'th', cell, i ? {} : { scope: 'row', 'class': 'text' }); });
    });
  }

  // A sheet to print, with boxes to tick.
  function sheet(figure, p) {
    var holder = el(figure, 'div', null, { 'class': 'sheet' });
    p.groups.forEach(function (group) {
      el(holder, 'h3', group.heading);
      var list = el(holder, 'ul');
      group.lines.forEach(function (text) {
        var label = el(el(list, 'li'), 'label');
        el(label, 'input', null, { type: 'checkbox' });
        label.appendChild(document.createTextNode(text));
      });
    });
  }

  var kinds = { ranges: ranges, bars: bars, levels: levels, grid: grid, sheet: sheet };
  pictures.forEach(function (p, i) {
    kinds[p.kind](document.getElementById('picture-' + i), p);
  });
})();
