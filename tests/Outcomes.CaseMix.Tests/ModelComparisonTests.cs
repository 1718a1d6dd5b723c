using Outcomes.CaseMix;
using Outcomes.CaseMix.Challenger;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class ModelComparisonTests
{
    [Fact]
    public void On_records_simulated_from_a_logistic_model_both_models_discriminate_alike()
    {
        var (rows, met) = Simulated(3_000, 11, x => -0.5 + x[0] - (0.7 * x[1]));
        var found = ModelComparison.Of(rows, met, seed: 5, folds: 5);
        // The bounds are this project's choice: two hundredths of the c statistic, and 0.005 of the Brier score.
        Assert.InRange(found.Difference, -0.02, 0.005);
        Assert.InRange(found.Additive.Calibration.Brier - found.Logistic.Calibration.Brier, -0.001, 0.005);
        Assert.InRange(found.Logistic.Calibration.Slope!.Value, 0.85, 1.15);
        Assert.InRange(found.Additive.Calibration.Slope!.Value, 0.85, 1.25);
        Assert.Equal((3_000, met.Count(value => value)), (found.Records, found.Events));
    }

    [Fact]
    public void Where_a_chance_rises_at_both_ends_of_a_quantity_the_additive_model_discriminates_better()
    {
        var (rows, met) = Simulated(1_000, 12, x => -1.5 + (1.2 * ((x[0] * x[0]) - 0.5)));
        var found = ModelComparison.Of(rows, met, seed: 5, folds: 5);
        Assert.InRange(found.Logistic.Discrimination.Value, 0.40, 0.60);
        Assert.True(found.Difference > 0.10, $"{found.Difference}");
    }

    [Fact]
    public void The_additive_model_finds_the_c_statistic_of_the_true_chances_on_its_own_kind_of_records()
    {
        // The true chances are the best that any model can do: their c statistic is the mark from outside the fit.
        var (rows, met) = Simulated(4_000, 13, Curve);
        var best = Discrimination.Auc([.. rows.Select(Curve)], met).Value;
        Assert.InRange(ModelComparison.Of(rows, met, seed: 5, folds: 5).Additive.Discrimination.Value,
            best - 0.02, best + 0.005);

        static double Curve(double[] x) => -1 + (1.5 * Math.Sin(2 * x[0])) + (x[1] > 0.5 ? 1 : 0);
    }

    [Fact]
    public void The_same_seed_gives_the_same_comparison_and_another_seed_another_deal()
    {
        var (rows, met) = Simulated(400, 14, x => x[0]);
        var first = ModelComparison.Of(rows, met, seed: 5, folds: 5);
        var again = ModelComparison.Of(rows, met, seed: 5, folds: 5);
        Assert.Equal(first.Additive.Discrimination, again.Additive.Discrimination);
        Assert.Equal(first.Additive.Calibration.Brier, again.Additive.Calibration.Brier);
        Assert.NotEqual(first.Additive.Discrimination,
            ModelComparison.Of(rows, met, seed: 6, folds: 5).Additive.Discrimination);
    }

    [Fact]
    public void The_published_births_are_compared_by_the_fields_of_their_model()
    {
        var births = Data.Columns("birthwt.csv");
        var data = new CaseMixData([.. births["low"].Select(value => value == 1)],
        [
            Covariate.Quantity("lwt", births["lwt"].Select(value => (double?)value)),
            Covariate.Code("race", births["race"].Select(value => (string?)$"race {value}")),
        ]);
        var model = CaseMixFit.Fit(data, new()).Model!;
        var found = ModelComparison.Of(model, data, new());
        Assert.Equal(model.Auc.Value, found.Logistic.Discrimination.Value, 12);
        Assert.Equal((189, 59), (found.Records, found.Events));
        Assert.InRange(found.Additive.Discrimination.Value, 0.5, 0.75);
    }

    [Fact]
    public void A_model_without_columns_cannot_be_compared() =>
        Assert.Throws<ArgumentException>(() => ModelComparison.Of([[], []], [true, false], 1, 2));

    // Two columns from −2 to 2, evenly spread; the outcome has the stated log odds.
    private static (double[][] Rows, bool[] Met) Simulated(int records, ulong seed, Func<double[], double> logOdds)
    {
        var uniform = SplitMix64.Uniform(seed);
        double[][] rows = [.. Enumerable.Range(0, records).Select(_ => new[] { (4 * uniform()) - 2, (4 * uniform()) - 2 })];
        return (rows, [.. rows.Select(row => uniform() < Logit.Chance(logOdds(row)))]);
    }
}
