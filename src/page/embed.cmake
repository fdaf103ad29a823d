# Compiles the page's sources in: page.css and page.js go into page.html where it says so,
# and the whole becomes generated/page/page_html.inc, the bytes of a char array. Editing
# one of them configures again by itself.
set(page_folder ${CMAKE_CURRENT_LIST_DIR})
set(page_parts page.css data.js format.js measures.js areas.js map.js table.js charts.js plan.js
    panel.js page.js)
file(READ ${page_folder}/page.html page_whole)
foreach(part IN LISTS page_parts)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${page_folder}/${part})
  file(READ ${page_folder}/${part} text)
  string(REPLACE "/*${part}*/" "${text}" page_whole "${page_whole}")
endforeach()
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${page_folder}/page.html)
set(page_file ${PROJECT_BINARY_DIR}/generated/page/page.html)
file(CONFIGURE OUTPUT ${page_file} CONTENT "@page_whole@" @ONLY)
file(READ ${page_file} bytes HEX)
string(REGEX REPLACE "(..)" "'\\\\x\\1'," bytes "${bytes}")
string(REPLACE "'\\x0a'," "'\\x0a',\n" bytes "${bytes}")
file(CONFIGURE OUTPUT ${PROJECT_BINARY_DIR}/generated/page/page_html.inc
     CONTENT "@bytes@\n" @ONLY)
