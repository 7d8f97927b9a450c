"use strict";
(function () {
  var form = document.querySelector("form");
  var boxes = Array.from(document.querySelectorAll(".done"));
  var key = "borewright " + form.getAttribute("data-fingerprint");
  function show() {
    document.querySelectorAll(".card").forEach(function (card) {
      var open = true;
      card.querySelectorAll(".done").forEach(function (box) {
        if (open ? box.checked === false : false) {
          open = false;
          box.setAttribute("aria-current", "step");
        } else {
          box.removeAttribute("aria-current");
        }
      });
    });
  }
  function keep() {
    try {
      var ids = boxes.filter(function (box) { return box.checked; }).map(function (box) { return box.id; });
      localStorage.setItem(key, ids.join(" "));
    } catch (refused) { return; }
  }
  function restore() {
    try {
      var ids = (localStorage.getItem(key) || "").split(" ");
      boxes.forEach(function (box) { box.checked = ids.indexOf(box.id) !== -1; });
    } catch (refused) { return; }
  }
  // The step that follows one that is done comes to where that one stood.
  function follow(box) {
    if (box.checked === false) { return; }
    var next = box.closest(".card").querySelector(".done[aria-current]");
    if (next) { next.closest(".block").scrollIntoView({ block: "start" }); }
  }
  form.addEventListener("change", function (event) {
    show();
    keep();
    if (event.target.className === "done") { follow(event.target); }
  });
  form.addEventListener("reset", function (event) {
    if (confirm("Clear all marks of this job?") === false) { event.preventDefault(); return; }
    setTimeout(function () { show(); keep(); }, 0);
  });
  form.addEventListener("keydown", function (event) {
    if (event.key === "Enter") {
      if (event.target.className === "done") {
        event.preventDefault();
        event.target.click();
      }
    }
  });
  // For a browser that does not open a fold by itself when a place within it is gone to.
  function reveal() {
    var place = document.getElementById(location.hash.slice(1));
    var fold = place ? place.closest("details") : null;
    if (fold ? fold.open === false : false) {
      fold.open = true;
      place.scrollIntoView();
    }
  }
  window.addEventListener("hashchange", reveal);
  restore();
  show();
  reveal();
})();
