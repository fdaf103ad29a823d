#include "page/page_private.h"

/* page.html with page.css and page.js in it, as bytes. */
const char page_template[] = {
#include "page/page_html.inc"
    0};
