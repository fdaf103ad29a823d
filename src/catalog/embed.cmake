# Compiles src/catalog/*.csv in: each becomes generated/catalog/NAME_csv.inc, the bytes of
# a char array as builtin.c includes them. Editing a table configures again by itself.
file(GLOB tables CONFIGURE_DEPENDS ${CMAKE_CURRENT_LIST_DIR}/*.csv)
foreach(table IN LISTS tables)
  get_filename_component(name ${table} NAME_WE)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${table})
  file(READ ${table} bytes HEX)
  string(REGEX REPLACE "(..)" "0x\\1," bytes "${bytes}")
  string(REPLACE "0x0a," "0x0a,\n" bytes "${bytes}")
  file(CONFIGURE OUTPUT ${PROJECT_BINARY_DIR}/generated/catalog/${name}_csv.inc
       CONTENT "@bytes@\n" @ONLY)
endforeach()
