using Outcomes.CaseMix;

namespace Outcomes.Tests;

public class RefitTests
{
    [Fact]
    public void Another_library_and_algorithm_give_the_published_model_to_one_in_ten_thousand()
    {
        var met = Data.Yes("birthwt.csv", "low");
        var other = Refit.Fit(LogisticTests.Full, met, 1);
        // Both against R's digits, and so against each other.
        var r = Data.Json("birthwt.json").GetProperty("full").Numbers("coef");
        Data.Near(r, other, 1e-4, "coefficient");
        Data.Near([.. other], Logistic.Fit(LogisticTests.Full, met).Coefficients.Select(each => each.Value), 1e-4, "coefficient");
    }

    [Fact]
    public void Random_problems_agree_to_one_in_ten_thousand_of_a_standard_deviation()
    {
        foreach (var (each, i) in Data.Json("random.json").EnumerateArray().Take(40).Select((each, i) => (each, i)))
        {
            var (rows, met) = LogisticTests.Problem(each);
            var (fit, other, problem) = (Logistic.Fit(rows, met), Refit.Fit(rows, met, 1), new LogisticProblem(rows, met));
            for (var j = 1; j < problem.Columns; j++)
                Assert.True(Math.Abs(fit.Coefficients[j].Value - other[j]) * problem.Scale(j) < 1e-4, $"problem {i}, column {j}");
        }
    }

    [Fact]
    public void A_fold_s_chances_do_not_know_its_own_outcomes()
    {
        // Turning the outcomes of one fold's records round cannot be seen in a chance that was made without them; with one column of noise
        // the chances of a seeded run are the same again, and cross-validated discrimination is lower than on the fitted records.
        var met = Data.Yes("birthwt.csv", "low");
        var chances = CrossValidation.Expected(LogisticTests.Full, met, 7);
        Assert.Equal(chances, CrossValidation.Expected(LogisticTests.Full, met, 7));
        Assert.NotEqual(chances, CrossValidation.Expected(LogisticTests.Full, met, 8));
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
        var chances = CrossValidation.Expected([[], [], [], []], [true, true, false, false], 1, 4);
        Data.Near([1.0 / 3, 1.0 / 3, 2.0 / 3, 2.0 / 3], chances, 1e-9, "chance");
    }
}
