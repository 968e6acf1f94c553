"use strict";
(function () {
  // Long tables get a box that keeps the rows with a text. Without script the page lacks nothing but this.
  document.querySelectorAll("table").forEach(function (table, place) {
    var rows = table.tBodies.length ? Array.from(table.tBodies[0].rows) : [];
    if (rows.length < 8) { return; }
    var label = document.createElement("label");
    var box = document.createElement("input");
    var shown = document.createElement("output");
    label.className = "filter";
    box.type = "search";
    box.id = "filter-" + place;
    label.htmlFor = box.id;
    shown.htmlFor = box.id;
    label.append("Show rows with: ", box, " ", shown);
    box.addEventListener("input", function () {
      var wanted = box.value.toLowerCase();
      var left = 0;
      rows.forEach(function (row) {
        row.hidden = wanted !== "" && !row.textContent.toLowerCase().includes(wanted);
        left += row.hidden ? 0 : 1;
      });
      shown.textContent = wanted === "" ? "" : left + " of " + rows.length;
    });
    table.parentNode.parentNode.insertBefore(label, table.parentNode);
  });
}());
