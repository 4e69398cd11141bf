#define G_LOG_DOMAIN "bw-publish"

#include "bw-html-private.h"

/* The style of a page. Dark letters on white, one column, as wide as a line is
 * easily read; nothing is told by colour alone. */
static const char style[] =
  "*{box-sizing:border-box}\n"
  "html{font:1rem/1.5 \"DejaVu Sans\",\"Noto Sans\",Arial,sans-serif;color:#111;background:#fff;"
  "-webkit-text-size-adjust:100%}\n"
  "html.large{font-size:32px}\n"
  "body{margin:0 auto;padding:1rem;max-width:46rem;overflow-wrap:anywhere}\n"
  "h1{font-size:1.7rem;line-height:1.2;margin:.5rem 0;unicode-bidi:isolate}\n"
  "h2{font-size:1.3rem;line-height:1.25;margin:2rem 0 .5rem;border-bottom:2px solid #111}\n"
  "h3{font-size:1.1rem;margin:1.5rem 0 .25rem}\n"
  "p{margin:.5rem 0}\n"
  ".round{white-space:pre-wrap;padding-left:2.2rem;text-indent:-2.2rem;margin:.7rem 0}\n"
  ".colour{display:inline-block;text-indent:0;width:1.6rem;text-align:center;"
  "border:1px solid #111;border-radius:.2rem;font-weight:bold;line-height:1.4}\n"
  ".check{padding-left:2.2rem}\n"
  ".round input{width:1.2rem;height:1.2rem;margin:0 .4rem 0 0;vertical-align:-.2rem}\n"
  ".round.ticked{padding-left:4rem;text-indent:-4rem}\n"
  "svg,img{display:block;width:100%;height:auto}\n"
  "figure{margin:0}\n"
  "figcaption{font-size:.9rem}\n"
  ".cover{display:grid;grid-template-columns:1fr 1fr;gap:1rem;align-items:end;max-width:32rem;"
  "margin:1rem 0}\n"
  ".cover figcaption{grid-column:1/3}\n"
  ".photo img{max-width:32rem}\n"
  ".hats{display:flex;flex-wrap:wrap;gap:1rem;align-items:flex-end}\n"
  ".hats figure{max-width:100%}.hats figcaption{min-height:3em}\n"
  "table{border-collapse:collapse;margin:1rem 0;width:100%}\n"
  "caption{text-align:start;font-size:.9rem;padding-bottom:.3rem}\n"
  "th,td{border:1px solid #767676;padding:.25rem .3rem;text-align:end;vertical-align:top}\n"
  "tbody th{text-align:start;font-weight:normal;min-width:5rem}\n"
  "thead th{vertical-align:bottom}thead th:first-child{text-align:start}\n"
  ".sizes thead th{overflow-wrap:break-word}\n"
  /* Where a browser cannot follow a choice, all sizes show and nothing is offered */
  ".chooser{display:none}@supports selector(:has(*)){.chooser{display:block}}\n"
  ".chooser{border:2px solid #111;border-radius:.4rem;margin:1rem 0;padding:.5rem .8rem;"
  "min-inline-size:0}\n"
  ".chooser label{display:inline-block;margin:.2rem 1.2rem .2rem 0;padding:.2rem 0}\n"
  ".chooser input{width:1.2rem;height:1.2rem;margin:0 .4rem 0 0;vertical-align:-.2rem}\n"
  "input:focus-visible,a:focus-visible{outline:3px solid #1a56b0;outline-offset:2px}\n"
  ".sheet label{display:block;margin:1rem 0}\n"
  ".sheet input,.sheet textarea{display:block;width:100%;max-width:24rem;font:inherit;"
  "border:1px solid #111;padding:.4rem}\n"
  "footer{margin-top:2rem;border-top:1px solid #767676;font-size:.9rem}\n"
  "@media(max-width:30rem){body{padding:.75rem}th,td{padding:.2rem}table{font-size:.9rem}}\n"
  "@page{margin:18mm}\n"
  "@media print{html{font-size:11pt}html.large{font-size:24pt}body{max-width:none;padding:0}"
  ".chooser{display:none}h2,h3,caption,thead{break-after:avoid}"
  ".round,.check,tr,figure,.item{break-inside:avoid}a{color:inherit;text-decoration:none}}\n";

/**
 * bw_html_style:
 * @out: where it goes
 * @n_sizes: sizes of the page, 1 = no choice
 *
 * Appends the style element; with what makes the choice of a size work.
 */
void
bw_html_style (GString *out,
               guint    n_sizes)
{
  g_string_append (out, "<style>\n");
  g_string_append (out, style);
  if (n_sizes > 1)
    g_string_append (out, ":root:has(.one:checked) :is(.p,.only){display:none}\n");
  for (guint k = 0; n_sizes > 1 && k < n_sizes; k++)
    g_string_append_printf (out,
                            ":root:has(#size-%u:checked) :is(.s:not(.s%u),.r:not(.w%u))"
                            "{display:none}\n"
                            ":root:has(#size-%u:checked) .t%u :is(th,td){font-weight:bold;"
                            "border-width:3px 1px;border-color:#111}\n",
                            k, k, k, k, k);
  g_string_append (out, "</style>\n");
}
