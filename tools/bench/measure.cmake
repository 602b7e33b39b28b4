# stripbook-bench-measure: how well parts are measured, on photos with known truth.
set(measure_bench_folder ${CMAKE_CURRENT_LIST_DIR})
add_executable(stripbook-bench-measure
  ${measure_bench_folder}/measure_bench.cpp ${measure_bench_folder}/measure_set.cpp
  ${measure_bench_folder}/measure_score.cpp ${measure_bench_folder}/measure_naive.cpp
  ${measure_bench_folder}/measure_read.cpp ${measure_bench_folder}/measure_outcome.cpp)
target_link_libraries(stripbook-bench-measure PRIVATE sample_maker_lib room_measure room_tag room_photo nlohmann_json::nlohmann_json
                      CLI11::CLI11 fmt::fmt stripbook_warnings)
target_include_directories(stripbook-bench-measure PRIVATE ${PROJECT_SOURCE_DIR}/tools)
