using CsCheck;
using Outcomes.CaseMix;

namespace Outcomes.Tests;

public class CalibrationTests
{
    private static readonly bool[] Low = Data.Yes("birthwt.csv", "low");

    [Fact]
    public void Recalibration_of_a_distorted_model_agrees_with_R()
    {
        var fit = Logistic.Fit(LogisticTests.Full, Low);
        double[] wrong = [.. LogisticTests.Full.Select(row => Logit.Chance(0.3 + (0.7 * fit.LogOdds(row))))];
        var (result, r) = (Calibration.Assess(wrong, Low), Data.Json("birthwt.json").GetProperty("recalibration"));
        Data.Near([r.Number("slope"), r.Number("slope_se"), r.Number("intercept"), r.Number("intercept_se"), r.Number("brier")],
            [result.Slope!.Value, result.Slope.StandardError, result.Intercept!.Value, result.Intercept.StandardError, result.Brier], 1e-8,
            "recalibration");
        // By hand: undoing 0.7 takes a slope of 1 / 0.7.
        Assert.Equal(1 / 0.7, result.Slope.Value, 8);
    }

    [Fact]
    public void A_model_judged_on_its_own_records_is_calibrated_by_construction()
    {
        var fit = Logistic.Fit(LogisticTests.Full, Low);
        var result = Calibration.Assess([.. LogisticTests.Full.Select(row => fit.Expected(row))], Low);
        Assert.Equal(0, result.Intercept!.Value, 9);
        Assert.Equal(1, result.Slope!.Value, 9);
        // R: mean((fitted - low)^2), 0.17906.
        Assert.Equal(0.17906, result.Brier, 5);
        Assert.Equal(59.0 / 189 * 130 / 189, result.BrierOfMean, 12);
    }

    [Fact]
    public void Groups_hold_every_record_once_and_never_part_equal_chances()
    {
        Gen.Select(Gen.Int[1, 9].Array[1, 60], Gen.Bool.Array[60]).Sample((tenths, all) =>
        {
            var groups = Calibration.Assess([.. tenths.Select(value => value / 10.0)], [.. all.Take(tenths.Length)]).Groups;
            Assert.Equal(tenths.Length, groups.Sum(group => group.Count.Eligible));
            Assert.Equal(all.Take(tenths.Length).Count(value => value), groups.Sum(group => group.Count.Met));
            Assert.Equal(tenths.Sum() / 10.0, groups.Sum(group => group.Expected * group.Count.Eligible), 9);
            Assert.Equal(groups.Select(group => group.Expected).Order(), groups.Select(group => group.Expected));
            Assert.True(groups.Length <= Math.Min(10, tenths.Distinct().Count()));
        });
    }

    [Fact]
    public void A_chance_of_one_is_refused() => Assert.Throws<ArgumentException>(() => Calibration.Assess([0.5, 1], [true, true]));
}
