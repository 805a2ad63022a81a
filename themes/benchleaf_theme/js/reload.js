/* Under serve only: asks the server when a record was changed and loads the page again. No other page asks for anything. */
"use strict";
(function () {
  let seen = null;

  async function ask() {
    let pause = 0;
    try {
      const answer = await fetch("/livereload/" + (seen === null ? 0 : seen) + "/1");
      const now = Number(await answer.text());
      if (!answer.ok || !Number.isFinite(now)) {
        pause = 3000;
      } else if (seen !== null && now > seen) {
        location.reload();
        return;
      } else {
        seen = now;
      }
    } catch (gone) {
      pause = 3000;
    }
    setTimeout(ask, pause);
  }

  ask();
})();
