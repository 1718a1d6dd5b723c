using System.Collections.Immutable;
using Outcomes.CaseMix;

namespace Outcomes.Tests;

public class CrossValidationTests
{
    [Fact]
    public void A_fold_s_chances_do_not_know_its_own_outcomes()
    {
        // Turning the outcomes of one fold's records round cannot be seen in a chance that was made without them; with one column of noise
        // the chances of a seeded run are the same again, and cross-validated discrimination is lower than on the fitted records.
        var met = Data.Yes("birthwt.csv", "low");
        var chances = Expected(LogisticTests.Full, met, 7);
        Assert.Equal(chances, Expected(LogisticTests.Full, met, 7));
        Assert.NotEqual(chances, Expected(LogisticTests.Full, met, 8));
        var fit = Logistic.Fit(LogisticTests.Full, met);
        var apparent = Discrimination.Auc([.. LogisticTests.Full.Select(row => fit.Expected(row))], met);
        // R: auc(roc(low, fitted)) = 0.746154.
        Assert.Equal(0.746154, apparent.Value, 6);
        Assert.True(Discrimination.Auc(chances, met).Value < apparent.Value);
    }

    [Fact]
    public void As_many_folds_as_records_leave_each_out_once()
    {
        // Two columns-free records of either kind: what is left when one goes has 2 of 3 or 1 of 3 that met, by hand.
        var chances = Expected([[], [], [], []], [true, true, false, false], 1, 4);
        Data.Near([1.0 / 3, 1.0 / 3, 2.0 / 3, 2.0 / 3], chances, 1e-9, "chance");
    }

    [Fact]
    public void Leave_one_out_with_one_column_gives_the_share_of_the_group_without_the_record()
    {
        // 2 of 5 met where the column is 0, and 4 of 6 where it is 1: a model with one yes-or-no column gives each group its own share.
        bool[] met = [true, true, false, false, false, true, true, true, true, false, false];
        double[][] rows = [.. Enumerable.Range(0, 11).Select(i => new[] { i < 5 ? 0.0 : 1.0 })];
        double[] expected = [0.25, 0.25, 0.5, 0.5, 0.5, 0.6, 0.6, 0.6, 0.6, 0.8, 0.8];
        Data.Near(expected, Expected(rows, met, 3, 11), 1e-9, "chance");
    }

    [Fact]
    public void A_column_that_is_constant_without_the_fold_says_nothing_in_its_fit()
    {
        // The one record whose column is 1 is judged by the others, which say nothing of the column: 3 of 6 met.
        double[][] rows = [[1], [0], [0], [0], [0], [0], [0]];
        var chances = CrossValidation.Expected(rows, [true, true, true, true, false, false, false], 5, 7, ["1", "0"]);
        Assert.Equal(0.5, chances[0], 9);
    }

    [Fact]
    public void Records_that_lack_a_field_are_judged_by_models_that_have_not_seen_them()
    {
        // Every fourth record lacks the only column: left out one by one, its chance is the share of all others that met.
        bool[] met = [.. Enumerable.Range(0, 40).Select(i => i % 3 == 0)];
        double[][] rows = [.. Enumerable.Range(0, 40).Select(i => new[] { i % 4 == 0 ? double.NaN : i % 5 })];
        var chances = CrossValidation.Expected(rows, met, 2, 40, PatternModels.Fit(rows, met).Patterns);
        for (var i = 0; i < 40; i += 4)
        {
            int[] others = [.. Enumerable.Range(0, 40).Where(other => other != i)];
            var models = PatternModels.Fit([.. others.Select(other => rows[other])], [.. others.Select(other => met[other])], ["1", "0"]);
            Assert.Equal(models.Expected([double.NaN]), chances[i], 12);
        }
    }

    // Maximum likelihood, by hand-checkable shares.
    private static ImmutableArray<double> Expected(double[][] rows, bool[] met, ulong seed, int folds = 5) =>
        CrossValidation.Expected(met, seed, folds, others =>
        {
            var fit = Logistic.Fit([.. others.Select(i => rows[i])], [.. others.Select(i => met[i])]);
            return record => fit.Expected(rows[record]);
        });
}
