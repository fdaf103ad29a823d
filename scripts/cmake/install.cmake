# What `cmake --install` puts where, and how other builds find it.
include(CMakePackageConfigHelpers)

set(OUTLAY_PACKAGE_DIR ${CMAKE_INSTALL_LIBDIR}/cmake/outlay)

install(TARGETS outlay EXPORT outlayTargets)
install(DIRECTORY include/outlay TYPE INCLUDE FILES_MATCHING PATTERN "*.h")
install(EXPORT outlayTargets NAMESPACE outlay:: DESTINATION ${OUTLAY_PACKAGE_DIR}
        FILE outlayConfig.cmake)

write_basic_package_version_file(${PROJECT_BINARY_DIR}/outlayConfigVersion.cmake
                                 COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/outlayConfigVersion.cmake
        DESTINATION ${OUTLAY_PACKAGE_DIR})

file(RELATIVE_PATH OUTLAY_PREFIX_FROM_PC /${CMAKE_INSTALL_LIBDIR}/pkgconfig /)
configure_file(${CMAKE_CURRENT_LIST_DIR}/outlay.pc.in outlay.pc @ONLY)
install(FILES ${PROJECT_BINARY_DIR}/outlay.pc
        DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig)
