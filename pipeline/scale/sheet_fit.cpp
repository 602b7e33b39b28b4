#include "scale/sheet_fit.h"

#include <ceres/ceres.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <memory>
#include <opencv2/calib3d.hpp>

#include "scale/reprojection.h"

namespace stripbook::scale {

namespace {

using LensVector = std::array<double, lens_parameters>;

// How far blooming is believed without evidence, px.
constexpr double bloom_prior_px = 0.5;

LensVector vector_of(const LensProfile& lens) {
    return {lens.focal_px, lens.centre_px.x, lens.centre_px.y, lens.k1, lens.k2};
}

struct CornerResidual {
    std::array<double, 2> sheet;
    std::array<double, 2> outward;
    std::array<double, 2> seen;
    double sigma;
    template <typename T>
    bool operator()(const T* pose, const T* lens, const T* bloom, T* residual) const {
        project_sheet_point(pose, lens, *bloom, sheet.data(), outward.data(), residual);
        residual[0] = (residual[0] - T(seen[0])) / T(sigma);
        residual[1] = (residual[1] - T(seen[1])) / T(sigma);
        return true;
    }
};

struct LensPrior {
    Eigen::Matrix<double, lens_parameters, lens_parameters> root_information;
    LensVector mean;
    template <typename T>
    bool operator()(const T* lens, T* residual) const {
        for (int i = 0; i < lens_parameters; ++i) {
            residual[i] = T(0);
            for (int j = 0; j < lens_parameters; ++j) {
                residual[i] += T(root_information(i, j)) * (lens[j] - T(mean[static_cast<std::size_t>(j)]));
            }
        }
        return true;
    }
};

struct BloomPrior {
    template <typename T>
    bool operator()(const T* bloom, T* residual) const {
        residual[0] = *bloom / T(bloom_prior_px);
        return true;
    }
};

// A profile that claims to be exact still needs an inverse.
LensPrior prior_of(const LensProfile& lens) {
    constexpr std::array<double, lens_parameters> least{0.01, 0.01, 0.01, 1e-6, 1e-6};
    Eigen::Matrix<double, lens_parameters, lens_parameters> covariance;
    for (int i = 0; i < lens_parameters; ++i) {
        for (int j = 0; j < lens_parameters; ++j) {
            covariance(i, j) = lens.covariance(i, j);
        }
        const double floor = least[static_cast<std::size_t>(i)];
        covariance(i, i) += floor * floor;
    }
    const Eigen::Matrix<double, lens_parameters, lens_parameters> information = covariance.inverse();
    return {information.llt().matrixU(), vector_of(lens)};
}

// Pose of a flat sheet without distortion, by OpenCV: a start, no more.
std::optional<ViewState> start_of(const SheetView& view, const LensProfile& lens) {
    std::vector<cv::Point2d> rays;
    for (const auto& pixel : view.photo_px) {
        const auto ray = ray_from_pixel(lens, pixel);
        if (!ray) {
            return std::nullopt;
        }
        rays.push_back(*ray);
    }
    std::vector<cv::Point3d> sheet;
    for (const auto& p : view.sheet_mm) {
        sheet.emplace_back(p.x, p.y, 0);
    }
    cv::Vec3d rotation;
    cv::Vec3d translation;
    if (!cv::solvePnP(sheet, rays, cv::Matx33d::eye(), cv::noArray(), rotation, translation, false,
                      cv::SOLVEPNP_IPPE) ||
        !(translation[2] > 0)) {
        return std::nullopt;
    }
    ViewState state;
    for (std::size_t i = 0; i < 3; ++i) {
        state.pose[i] = rotation[static_cast<int>(i)];
        state.pose[3 + i] = translation[static_cast<int>(i)];
    }
    return state;
}

class Adjustment {
  public:
    Adjustment(const std::vector<SheetView>& views, const LensProfile& prior)
        : views_(views), prior_(prior), lens_(vector_of(prior)) {}

    bool start() {
        for (const auto& view : views_) {
            const auto state = view.sheet_mm.size() >= 4 ? start_of(view, prior_) : std::nullopt;
            if (!state) {
                return false;
            }
            states_.push_back(*state);
        }
        return !states_.empty();
    }

    // Builds and solves with this corner noise; false when the solver fails.
    bool solve(double sigma) {
        problem_ = std::make_unique<ceres::Problem>();
        for (std::size_t v = 0; v < views_.size(); ++v) {
            add_view(views_[v], states_[v], sigma);
        }
        problem_->AddResidualBlock(
            new ceres::AutoDiffCostFunction<LensPrior, lens_parameters, lens_parameters>(
                new LensPrior(prior_of(prior_))),
            nullptr, lens_.data());
        ceres::Solver::Options options;
        options.linear_solver_type = views_.size() > 3 ? ceres::DENSE_SCHUR : ceres::DENSE_QR;
        options.max_num_iterations = 100;
        options.function_tolerance = 1e-12;
        options.logging_type = ceres::SILENT;
        options.num_threads = 1;
        ceres::Solver::Summary summary;
        ceres::Solve(options, problem_.get(), &summary);
        return summary.IsSolutionUsable();
    }

    // Of all corners, with the parameters found taken off the count.
    double corner_sigma() {
        double sum = 0;
        double count = 0;
        for (std::size_t v = 0; v < views_.size(); ++v) {
            const double squares = sum_of_squares(v);
            const auto points = static_cast<double>(views_[v].sheet_mm.size());
            states_[v].rms_px = std::sqrt(squares / (2 * points));
            sum += squares;
            count += 2 * points - 7;
        }
        return std::sqrt(sum / std::max(1.0, count));
    }

    std::optional<SheetFit> result(double sigma) {
        SheetFit fit;
        fit.views = states_;
        fit.corner_sigma_px = sigma;
        fit.lens = prior_;
        fit.lens.focal_px = lens_[0];
        fit.lens.centre_px = {lens_[1], lens_[2]};
        fit.lens.k1 = lens_[3];
        fit.lens.k2 = lens_[4];
        return add_covariance(fit) ? std::optional(fit) : std::nullopt;
    }

  private:
    void add_view(const SheetView& view, ViewState& state, double sigma) {
        for (std::size_t i = 0; i < view.sheet_mm.size(); ++i) {
            const cv::Point2d outward = view.outward.empty() ? cv::Point2d() : view.outward[i];
            auto* residual = new CornerResidual{{view.sheet_mm[i].x, view.sheet_mm[i].y},
                                                {outward.x, outward.y},
                                                {view.photo_px[i].x, view.photo_px[i].y},
                                                sigma};
            problem_->AddResidualBlock(
                new ceres::AutoDiffCostFunction<CornerResidual, 2, 6, lens_parameters, 1>(residual), nullptr,
                state.pose.data(), lens_.data(), &state.bloom_px);
        }
        problem_->AddResidualBlock(new ceres::AutoDiffCostFunction<BloomPrior, 1, 1>(new BloomPrior), nullptr,
                                   &state.bloom_px);
    }

    double sum_of_squares(std::size_t v) const {
        const SheetView& view = views_[v];
        const ViewState& state = states_[v];
        double sum = 0;
        for (std::size_t i = 0; i < view.sheet_mm.size(); ++i) {
            const cv::Point2d outward = view.outward.empty() ? cv::Point2d() : view.outward[i];
            const std::array<double, 2> sheet{view.sheet_mm[i].x, view.sheet_mm[i].y};
            const std::array<double, 2> out{outward.x, outward.y};
            std::array<double, 2> pixel{};
            project_sheet_point(state.pose.data(), lens_.data(), state.bloom_px, sheet.data(), out.data(),
                                pixel.data());
            const cv::Point2d off = cv::Point2d(pixel[0], pixel[1]) - view.photo_px[i];
            sum += off.dot(off);
        }
        return sum;
    }

    bool add_covariance(SheetFit& fit) {
        ceres::Covariance::Options options;
        options.algorithm_type = ceres::DENSE_SVD;
        options.null_space_rank = -1;
        ceres::Covariance covariance(options);
        std::vector<const double*> blocks{lens_.data()};
        const bool single = views_.size() == 1;
        if (single) {
            blocks = {states_[0].pose.data(), lens_.data(), &states_[0].bloom_px};
        }
        if (!covariance.Compute(blocks, problem_.get())) {
            return false;
        }
        if (single) {
            fit.joint_covariance = cv::Mat1d(7 + lens_parameters, 7 + lens_parameters);
            Eigen::Matrix<double, 7 + lens_parameters, 7 + lens_parameters, Eigen::RowMajor> joint;
            covariance.GetCovarianceMatrix(blocks, joint.data());
            std::copy(joint.data(), joint.data() + joint.size(), fit.joint_covariance.begin());
        }
        return covariance.GetCovarianceBlock(lens_.data(), lens_.data(), fit.lens.covariance.val);
    }

    const std::vector<SheetView>& views_;
    const LensProfile& prior_;
    LensVector lens_;
    std::vector<ViewState> states_;
    std::unique_ptr<ceres::Problem> problem_;
};

}  // namespace

std::optional<SheetFit> fit_sheets(const std::vector<SheetView>& views, const LensProfile& prior) {
    Adjustment adjustment(views, prior);
    constexpr double first_sigma = 0.1;
    if (!adjustment.start() || !adjustment.solve(first_sigma)) {
        return std::nullopt;
    }
    const double sigma = std::max(least_corner_sigma_px, adjustment.corner_sigma());
    if (!adjustment.solve(sigma)) {
        return std::nullopt;
    }
    const double final_sigma = std::max(least_corner_sigma_px, adjustment.corner_sigma());
    auto fit = adjustment.result(std::max(sigma, final_sigma));
    return fit;
}

}  // namespace stripbook::scale
