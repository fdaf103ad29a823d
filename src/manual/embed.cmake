# Compiles src/manual/*.md in: generated/manual/topics.inc has a row per topic, as manual.c
# includes it. A topic's name is its file's, its line of help what stands behind the colon
# of its title. With lowdown each becomes a manual page too, outlay-TOPIC(7), and the
# topic `outlay` outlay(1).
find_program(LOWDOWN lowdown)
file(GLOB topics CONFIGURE_DEPENDS ${CMAKE_CURRENT_LIST_DIR}/*.md)
list(SORT topics)
set(texts "")
set(rows "")
foreach(topic IN LISTS topics)
  get_filename_component(name ${topic} NAME_WE)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${topic})
  file(STRINGS ${topic} title LIMIT_COUNT 1 ENCODING UTF-8)
  string(REGEX REPLACE "^# [a-z]+: " "" help "${title}")
  file(READ ${topic} bytes HEX)
  string(REGEX REPLACE "(..)" "0x\\1," bytes "${bytes}")
  string(REPLACE "0x0a," "0x0a,\n" bytes "${bytes}")
  string(APPEND texts "static const unsigned char text_${name}[] = {\n${bytes}0};\n")
  string(APPEND rows "    {\"${name}\", \"${help}\", text_${name}},\n")
  if(LOWDOWN)
    set(title outlay-${name})
    set(section 7)
    if(name STREQUAL outlay)
      set(title outlay)
      set(section 1)
    endif()
    set(page ${PROJECT_BINARY_DIR}/generated/man/${title})
    file(READ ${topic} text)
    string(REGEX REPLACE "^# [^\n]*\n"
           "# NAME\n\n${title} - ${help}\n\n# DESCRIPTION\n" text "${text}")
    file(CONFIGURE OUTPUT ${page}.md CONTENT "@text@" @ONLY)
    add_custom_command(OUTPUT ${page}.${section}
      COMMAND ${LOWDOWN} -s -Tman -M title=${title} -M section=${section}
              -M "source=outlay ${PROJECT_VERSION}" -M "volume=outlay manual"
              -o ${page}.${section} ${page}.md
      DEPENDS ${page}.md VERBATIM)
    install(FILES ${page}.${section} DESTINATION ${CMAKE_INSTALL_MANDIR}/man${section})
    list(APPEND pages ${page}.${section})
  endif()
endforeach()
file(CONFIGURE OUTPUT ${PROJECT_BINARY_DIR}/generated/manual/topics.inc
     CONTENT "@texts@\nconst struct manual_topic manual_topics[] = {\n@rows@    {NULL, NULL, NULL}};\n"
     @ONLY)
if(LOWDOWN)
  add_custom_target(manual_pages ALL DEPENDS ${pages})
else()
  message(STATUS "No manual pages: lowdown isn't installed (`outlay help` has the texts)")
endif()
