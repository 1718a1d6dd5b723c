using CsCheck;
using Outcomes.CaseMix;

namespace Outcomes.Tests;

/// <summary>What must hold of every fitted model.</summary>
public class LawTests
{
    // Two covariates, whole numbers and a yes or no, whose effects vary.
    private static readonly Gen<(double[][] Rows, bool[] Met)> Problems =
        Gen.Select(Gen.Int[0, 9].Array[40], Gen.Bool.Array[40], Gen.Double[0, 1].Array[40], Gen.Double[-1, 1]).Select((a, b, u, effect) => (
            a.Select((value, i) => new[] { value, b[i] ? 1.0 : 0 }).ToArray(),
            a.Select((value, i) => u[i] < Logit.Chance(effect * (value - 4.5) / 3)).ToArray()))
        .Where(problem => Logistic.Collinear(problem.Item1).IsEmpty
            && Math.Min(problem.Item2.Count(x => x), problem.Item2.Count(x => !x)) > 3);

    [Fact]
    public void Expected_events_add_up_to_those_observed_on_the_records_fitted() => Problems.Sample(problem =>
    {
        var fit = Logistic.Fit(problem.Rows, problem.Met);
        if (!fit.Penalised)
            Assert.Equal(problem.Met.Count(value => value), problem.Rows.Sum(row => fit.Expected(row)), 7);
    }, iter: 100);

    [Fact]
    public void Whatever_is_missing_expected_events_add_up_and_no_chance_or_variance_is_out_of_range() =>
        Gen.Select(Problems, Gen.Int[0, 9].Array[40], Gen.Int[0, 9].Array[40]).Sample((problem, first, second) =>
        {
            // A tenth to nine tenths lack a column; the first record knows both.
            double[][] rows = [.. problem.Rows.Select((row, i) => new[]
            {
                i > 0 && first[i] < first[0] ? double.NaN : row[0], i > 0 && second[i] < second[0] ? double.NaN : row[1],
            })];
            var models = PatternModels.Fit(rows, problem.Met);
            double[] chances = [.. rows.Select(models.Expected)];
            Assert.Equal(problem.Met.Count(value => value), chances.Sum(), 8);
            Assert.All(chances, chance => Assert.InRange(chance, 1e-9, 1 - 1e-9));
            // The baseline's own sum has at least the variance of nothing, and at most that of a sum of coins.
            Assert.InRange(models.VarianceOfSum(rows.Take(10)), 0, 40);
            Assert.All(models.Refitted([.. problem.Met.Select(value => !value)]), chance => Assert.InRange(chance, 1e-9, 1 - 1e-9));
        }, iter: 300);

    [Fact]
    public void Asking_for_the_opposite_turns_every_coefficient_round() => Problems.Sample(problem =>
    {
        var (fit, mirror) = (Logistic.Fit(problem.Rows, problem.Met), Logistic.Fit(problem.Rows, [.. problem.Met.Select(value => !value)]));
        Data.Near([.. fit.Coefficients.Select(each => -each.Value)], mirror.Coefficients.Select(each => each.Value), 1e-7, "coefficient");
        Assert.Equal(fit.Separation, mirror.Separation);
    }, iter: 100);

    [Fact]
    public void The_order_of_records_does_not_matter() => Problems.Sample(problem =>
    {
        var (fit, back) = (Logistic.Fit(problem.Rows, problem.Met), Logistic.Fit([.. problem.Rows.Reverse()], [.. problem.Met.Reverse()]));
        Data.Near([.. fit.Coefficients.Select(each => each.Value)], back.Coefficients.Select(each => each.Value), 1e-7, "coefficient");
    }, iter: 100);

    [Fact]
    public void A_covariate_in_other_units_has_a_coefficient_in_other_units_and_the_same_fit() =>
        Gen.Select(Problems, Gen.Double[0.01, 200], Gen.Double[-50, 50], Gen.Bool).Sample((problem, unit, zero, penalised) =>
        {
            double[][] changed = [.. problem.Rows.Select(row => new[] { (row[0] * unit) + zero, row[1] })];
            var (fit, other) = (Logistic.Fit(problem.Rows, problem.Met, penalised), Logistic.Fit(changed, problem.Met, penalised));
            Assert.Equal(fit.LogLikelihood, other.LogLikelihood, 6);
            Data.Near([fit.Coefficients[1].Value, fit.Coefficients[2].Value],
                [other.Coefficients[1].Value * unit, other.Coefficients[2].Value], 1e-6, "coefficient");
        }, iter: 100);

    [Fact]
    public void Firth_draws_a_coefficient_towards_nothing_when_it_is_the_only_one() =>
        Gen.Select(Gen.Int[1, 19], Gen.Int[1, 19]).Sample((first, second) =>
        {
            // Heinze and Schemper 2002: for a 2 by 2 table the penalty adds ½ to each cell.
            double[][] rows = [.. Enumerable.Range(0, 40).Select(i => new[] { i < 20 ? 1.0 : 0 })];
            bool[] met = [.. Enumerable.Range(0, 40).Select(i => i < 20 ? i < first : i - 20 < second)];
            var fit = Logistic.Fit(rows, met, penalised: true);
            Assert.Equal(Math.Log((first + 0.5) * (20.5 - second) / ((20.5 - first) * (second + 0.5))), fit.Coefficients[1].Value, 7);
        });
}
