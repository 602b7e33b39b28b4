# stripbook-bench-link: linking whole simulated days.
set(link_bench_folder ${CMAKE_CURRENT_LIST_DIR})
add_executable(stripbook-bench-link
  ${link_bench_folder}/link_main.cpp ${link_bench_folder}/link_day.cpp ${link_bench_folder}/link_score.cpp
  ${link_bench_folder}/simple_rule.cpp)
target_link_libraries(stripbook-bench-link PRIVATE room_link sample_maker_lib CLI11::CLI11 fmt::fmt stripbook_warnings)
target_include_directories(stripbook-bench-link PRIVATE ${PROJECT_SOURCE_DIR}/tools)
