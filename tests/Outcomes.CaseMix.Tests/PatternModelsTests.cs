using System.Text.Json;
using Outcomes.CaseMix;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Births of whom some lack fields, against R's own fits of each pattern: patterns.json.</summary>
public class PatternModelsTests
{
    private static readonly JsonElement R = Data.Json("patterns.json");

    private static readonly double[][] Rows = [.. R.GetProperty("x").EnumerateArray().Select(row => row.EnumerateArray()
        .Select(value => value.ValueKind == JsonValueKind.Null ? double.NaN : value.GetDouble()).ToArray())];

    private static readonly bool[] Met = [.. R.Numbers("y").Select(value => value == 1)];

    [Fact]
    public void Chances_and_shift_agree_with_R()
    {
        var models = PatternModels.Fit(Rows, Met);
        // 100 births know all; 33 lack the weight, 32 the race, 21 both; three lack smoking, in patterns too rare for a model.
        Assert.Equal((100, 3), (models.FullRecords, models.PartModels));
        Assert.Equal(R.Number("shift"), models.Shift, 9);
        Data.Near(R.Numbers("expected"), Rows.Select(models.Expected), 1e-9, "chance");
        Assert.Equal([2, 49, 76], Enumerable.Range(0, Rows.Length).Where(i => models.HasMean(Rows[i])));
    }

    [Fact]
    public void Expected_events_of_the_baseline_add_up_to_those_observed_whatever_is_missing()
    {
        Assert.Equal(59, Rows.Sum(PatternModels.Fit(Rows, Met).Expected), 9);
        // Crash cases, whose only field is never recorded, fare worse: 40 of 100 against 60 of 600.
        double[][] rows = [.. Enumerable.Range(0, 700).Select(i => new[] { i < 100 ? double.NaN : i % 3 })];
        bool[] met = [.. Enumerable.Range(0, 700).Select(i => i < 100 ? i < 40 : i % 10 == 3)];
        var models = PatternModels.Fit(rows, met);
        Assert.Equal(100, rows.Sum(models.Expected), 9);
        // What is not known says nothing: their chance is about the baseline's 1 in 7 and not their own 40 %.
        Assert.InRange(models.Expected([double.NaN]), 0.12, 0.19);
    }

    [Fact]
    public void Many_records_that_lack_every_field_have_the_mean_and_leave_the_other_patterns_theirs()
    {
        double[][] rows = [.. Enumerable.Range(0, 120).Select(i => i < 30 ? [double.NaN, double.NaN]
            : i < 70 ? [i % 5, double.NaN] : new double[] { i % 5, i % 4 })];
        bool[] met = [.. Enumerable.Range(0, 120).Select(i => i % 5 > 2)];
        var models = PatternModels.Fit(rows, met);
        Assert.Equal((50, 1), (models.FullRecords, models.PartModels));
        Assert.Equal(Enumerable.Range(0, 30), Enumerable.Range(0, 120).Where(i => models.HasMean(rows[i])));
        Assert.Equal(0.4, models.Expected(rows[0]), 0.02);
        Assert.True(models.Expected([4, double.NaN]) > models.Expected([0, double.NaN]) + 0.3);
    }

    [Fact]
    public void The_variance_of_a_sum_agrees_with_refitting_for_each_outcome_in_R() =>
        Assert.Equal(R.Number("variance"), PatternModels.Fit(Rows, Met).VarianceOfSum(Rows.Take(R.GetProperty("later").GetInt32())), 6);

    [Fact]
    public void The_variance_of_a_sum_is_that_of_models_refitted_to_outcomes_drawn_anew()
    {
        var models = PatternModels.Fit(Rows, Met);
        var (uniform, sums) = (SplitMix64.Uniform(41), new double[1_500]);
        double[] truth = [.. Rows.Select(models.Expected)];
        for (var run = 0; run < sums.Length; run++)
            sums[run] = models.Refitted([.. truth.Select(chance => uniform() < chance)]).Take(70).Sum();
        var mean = sums.Average();
        var variance = sums.Sum(value => (value - mean) * (value - mean)) / (sums.Length - 1);
        // The standard error of a variance from 1,500 draws is 3.7 % of it; the delta method is of first order.
        Assert.InRange(models.VarianceOfSum(Rows.Take(70)) / variance, 0.85, 1.15);
    }

    [Fact]
    public void Without_missing_fields_it_is_the_ridge_alone_and_its_delta_method()
    {
        var (rows, met) = (LogisticTests.Full, Data.Yes("birthwt.csv", "low"));
        var (models, fit) = (PatternModels.Fit(rows, met), Ridge.Fit(rows, met));
        Assert.Equal((189, 0, 0.0), (models.FullRecords, models.PartModels, models.Shift));
        Data.Near([.. rows.Select(row => fit.Expected(row))], rows.Select(models.Expected), 1e-12, "chance");
        // g' H⁻¹ X'WX H⁻¹ g, written out for the first 50 births.
        double[][] x = [.. rows.Select(row => (double[])[1, .. row])];
        double[] w = [.. rows.Select(row => fit.Expected(row)).Select(chance => chance * (1 - chance))];
        double[] g = [.. Enumerable.Range(0, 10).Select(j => Enumerable.Range(0, 50).Sum(i => w[i] * x[i][j]))];
        double[] along = [.. fit.Covariance.Select(row => row.Zip(g, (a, b) => a * b).Sum())];
        var variance = x.Zip(w, (row, weight) => weight * Math.Pow(row.Zip(along, (a, b) => a * b).Sum(), 2)).Sum();
        Assert.Equal(variance, models.VarianceOfSum(rows.Take(50)), 9);
    }

    [Fact]
    public void A_record_that_lacks_a_field_has_the_chance_of_the_model_without_it()
    {
        // Two fields that matter; every third record lacks the second. Its chance is the ridge of the first field, fitted to all.
        var uniform = SplitMix64.Uniform(5);
        double[][] whole = [.. Enumerable.Range(0, 600).Select(_ => new[] { uniform() - 0.5, uniform() - 0.5 })];
        bool[] met = [.. whole.Select(row => uniform() < Logit.Chance((3 * row[0]) + (3 * row[1]) - 1))];
        double[][] rows = [.. whole.Select((row, i) => i % 3 == 0 ? [row[0], double.NaN] : row)];
        var (models, first) = (PatternModels.Fit(rows, met), Ridge.Fit([.. rows.Select(row => row[..1])], met));
        for (var i = 0; i < 30; i += 3)
            Assert.Equal(first.LogOdds(rows[i][..1]) + models.Shift, Logit.LogOdds(models.Expected(rows[i])), 9);
        // Missing at random: the shift that makes the sum right is small.
        Assert.InRange(Math.Abs(models.Shift), 0, 0.1);
    }

    [Fact]
    public void A_model_needs_a_column_and_a_record_that_knows_all()
    {
        Assert.Throws<ArgumentException>(() => PatternModels.Fit([], []));
        Assert.Throws<ArgumentException>(() => PatternModels.Fit([[], []], [true, false]));
        Assert.Throws<ArgumentException>(() => PatternModels.Fit([[1, double.NaN], [double.NaN, 2]], [true, false]));
    }
}
