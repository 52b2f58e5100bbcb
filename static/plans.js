"use strict";
(() => {
})();
