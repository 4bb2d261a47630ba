// The same questions to CGAL, one thread. Takes a folder and mesh files; writes the triangles of each that it can hold to the folder
// (number.positions float64, number.indices uint32), so that both judge the same numbers, and prints a line a mesh: name, closed, area,
// volume (0 when open), pairs of triangles that intersect, triangles without area, CPU milliseconds of that search with its boxes (least
// of three) and of the measures.
// A mesh that it cannot hold (no manifold surface) is printed with what it is instead.
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/IO/polygon_soup_io.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/polygon_soup_to_polygon_mesh.h>
#include <CGAL/Polygon_mesh_processing/repair_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Polygon_mesh_processing/triangulate_faces.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/boost/graph/helpers.h>

#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

namespace PMP = CGAL::Polygon_mesh_processing;
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;

static double cpu() {
  timespec now;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return now.tv_sec * 1e3 + now.tv_nsec / 1e6;
}

template <class T>
static void save(const std::string& path, const std::vector<T>& all) {
  FILE* file = std::fopen(path.c_str(), "wb");
  if (!file || std::fwrite(all.data(), sizeof(T), all.size(), file) != all.size()) std::exit(1);
  std::fclose(file);
}

static const char* take(const char* path, Mesh& mesh) {
  std::vector<Kernel::Point_3> points;
  std::vector<std::vector<std::size_t>> faces;
  if (!CGAL::IO::read_polygon_soup(path, points, faces) || faces.empty()) return "cannot be read";
  // Text files of triangles repeat their corners.
  PMP::merge_duplicate_points_in_polygon_soup(points, faces);
  if (!PMP::is_polygon_soup_a_polygon_mesh(faces)) return "is no manifold surface";
  PMP::polygon_soup_to_polygon_mesh(points, faces, mesh);
  if (!PMP::triangulate_faces(mesh)) return "cannot be cut into triangles";
  mesh.collect_garbage();
  return nullptr;
}

static void dump(const std::string& name, const Mesh& mesh) {
  std::vector<double> positions;
  std::vector<std::uint32_t> indices;
  for (auto v : mesh.vertices())
    for (int k = 0; k < 3; k++) positions.push_back(mesh.point(v)[k]);
  for (auto f : mesh.faces())
    for (auto v : CGAL::vertices_around_face(mesh.halfedge(f), mesh)) indices.push_back(v.idx());
  save(name + ".positions", positions);
  save(name + ".indices", indices);
}

int main(int count, char** words) {
  const std::string folder = words[1];
  for (int i = 2; i < count; i++) {
    Mesh mesh;
    const char* fault = nullptr;
    try {
      fault = take(words[i], mesh);
    } catch (...) {
      fault = "throws while it is read";
    }
    if (fault) {
      std::printf("%d\t%s\n", i - 2, fault);
      continue;
    }
    dump(folder + "/" + std::to_string(i - 2), mesh);
    double from = cpu();
    const bool closed = CGAL::is_closed(mesh);
    const double area = PMP::area(mesh), volume = closed ? PMP::volume(mesh) : 0;
    const double measures = cpu() - from;
    double search = 1e300;
    std::vector<std::pair<Mesh::Face_index, Mesh::Face_index>> pairs;
    for (int run = 0; run < 3; run++) {
      pairs.clear();
      from = cpu();
      try {
        PMP::self_intersections<CGAL::Sequential_tag>(mesh, std::back_inserter(pairs));
      } catch (...) {
        fault = "throws while it is searched (a face without area)";
        break;
      }
      search = std::min(search, cpu() - from);
    }
    // A face without area is given as a pair with itself.
    const std::size_t flat = std::count_if(pairs.begin(), pairs.end(), [](auto& pair) { return pair.first == pair.second; });
    if (fault)
      std::printf("%d\t%s\n", i - 2, fault);
    else
      std::printf("%d\t%d\t%.17g\t%.17g\t%zu\t%zu\t%.3f\t%.3f\n", i - 2, closed, area, volume, pairs.size() - flat, flat, search,
                  measures);
    std::fflush(stdout);
  }
}
