// Sets light or dark before the first paint, if the reader chose one.
{
  const chosen = localStorage.getItem("drivewright light");
  if (chosen) document.documentElement.dataset.light = chosen;
}
