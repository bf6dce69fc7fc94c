// The code of the picture stands behind the # of the address: it is never sent with it, and leaves the history at once.
const code = document.getElementById("code");
const told = decodeURIComponent(location.hash.slice(1)).slice(0, 40);
if (/^[0-9A-Za-z-]+$/.test(told)) {
  code.value = told;
  history.replaceState(null, "", location.pathname);
}
