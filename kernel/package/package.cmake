# What `cmake --install` gives those who build on the kernel: headers, libraries, and the CMake package.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

set(names options base tube layout drawing plan paper hand fit sheet files)
if(CULMWRIGHT_SOLID)
  list(APPEND names solid triangulate occt)
endif()
set(targets)
foreach(name ${names})
  set_target_properties(culmwright_${name} PROPERTIES EXPORT_NAME ${name})
  list(APPEND targets culmwright_${name})
endforeach()

set(package ${CMAKE_INSTALL_LIBDIR}/cmake/culmwright)
install(TARGETS ${targets} EXPORT culmwright ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR})
install(EXPORT culmwright NAMESPACE culmwright:: FILE culmwright-targets.cmake DESTINATION ${package})
install(DIRECTORY ${PROJECT_SOURCE_DIR}/kernel/ DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/culmwright
  FILES_MATCHING PATTERN "*.hpp" PATTERN package EXCLUDE PATTERN embed EXCLUDE)
configure_package_config_file(${CMAKE_CURRENT_LIST_DIR}/culmwright-config.cmake.in
  ${CMAKE_CURRENT_BINARY_DIR}/culmwright-config.cmake INSTALL_DESTINATION ${package})
write_basic_package_version_file(${CMAKE_CURRENT_BINARY_DIR}/culmwright-config-version.cmake
  COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/culmwright-config.cmake
  ${CMAKE_CURRENT_BINARY_DIR}/culmwright-config-version.cmake DESTINATION ${package})
