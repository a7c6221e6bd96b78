/** Names a careless file, or a careful enemy, could carry. */
export const hostileNames = [
  "<script>alert(1)</script>",
  `"><img src=x onerror=alert(1)> 'quoted' "twice"`,
  "\u202eright to left\u202c \u200fmarks\u200e",
  "N".repeat(500),
  "🧊 ÄÖÜ 天然橡胶 & <b onmouseover=alert(1)>bold</b>",
  "</script><script>alert(2)</script><!-- ]]> %{x} $x^2$ {{1}} \u0000\u0007 =1+1",
];
