using System.Text.Json;
using Outcomes.CaseMix;

namespace Outcomes.Tests;

/// <summary>The ridge against R's mgcv, which penalises by a matrix that is given: ridge.json.</summary>
public class RidgeTests
{
    private static readonly JsonElement R = Data.Json("ridge.json");

    [Fact]
    public void Births_and_separated_women_agree_with_mgcv_to_eight_digits()
    {
        Agrees(R.GetProperty("births"), Ridge.Fit(LogisticTests.Full, Data.Yes("birthwt.csv", "low")), "births");
        // No finite maximum without a penalty: Heinze and Schemper 2002.
        Agrees(R.GetProperty("endometrial"), Ridge.Fit(
            Data.Rows("endometrial.csv", (table, i) => table["NV"][i], (table, i) => table["PI"][i], (table, i) => table["EH"][i]),
            Data.Yes("endometrial.csv", "HG")), "endometrial");
    }

    [Fact]
    public void Random_problems_agree_with_mgcv_to_eight_digits()
    {
        var (problems, answers) = (Data.Json("random.json").EnumerateArray().ToArray(), R.GetProperty("random").EnumerateArray().ToArray());
        Assert.Equal(problems.Length, answers.Length);
        foreach (var (problem, answer) in problems.Zip(answers))
        {
            var (rows, met) = LogisticTests.Problem(problem);
            var fit = Ridge.Fit(rows, met);
            Agrees(answer, fit, "random");
            // The intercept is free: chances add up to the records that met.
            Assert.Equal(met.Count(value => value), rows.Sum(row => fit.Expected(row)), 8);
        }
    }

    [Fact]
    public void A_start_from_which_newton_leaps_too_far_ends_at_the_same_maximum()
    {
        var met = Data.Yes("birthwt.csv", "low");
        var problem = new LogisticProblem(LogisticTests.Full, met) { Ridge = Ridge.Penalty };
        var far = new double[problem.Columns];
        far[0] = 12;
        Assert.Null(RidgeNewton.Find(problem, far, 1e-10));
        Data.Near(Ridge.Find(problem, met, new double[problem.Columns], 1e-10), Ridge.Find(problem, met, far, 1e-10), 1e-8, "coefficient");
    }

    [Fact]
    public void A_constant_column_and_a_repeated_one_are_borne()
    {
        double[][] rows = [.. Enumerable.Range(0, 30).Select(i => new double[] { i % 3, i % 3, 4 })];
        var fit = Ridge.Fit(rows, [.. Enumerable.Range(0, 30).Select(i => i % 7 < 3)]);
        Assert.Equal(0, fit.Coefficients[3].Value, 9);
        Assert.Equal(fit.Coefficients[1].Value, fit.Coefficients[2].Value, 9);
    }

    [Fact]
    public void One_outcome_alone_has_a_chance_short_of_certainty()
    {
        double[][] rows = [.. Enumerable.Range(0, 9).Select(i => new double[] { i })];
        // (0 + ½) / (9 + 1), by hand.
        Assert.Equal(0.05, Ridge.Fit(rows, new bool[9]).Expected([3]), 12);
        Assert.Equal(0.95, Ridge.Fit(rows, [.. rows.Select(_ => true)]).Expected([8]), 12);
        Assert.Throws<ArgumentException>(() => Ridge.Fit([], []));
        Assert.Throws<ArgumentOutOfRangeException>(() => Ridge.Fit(rows, new bool[9], penalty: 0));
    }

    private static void Agrees(JsonElement r, LogisticFit fit, string what)
    {
        Data.Near(r.Numbers("coef"), fit.Coefficients.Select(each => each.Value), 1e-8, what + ": coefficient");
        Data.Near(r.Numbers("se"), fit.Coefficients.Select(each => each.StandardError), 1e-8, what + ": error");
        Data.Near([r.Number("loglik")], [fit.LogLikelihood], 1e-8, what + ": log likelihood");
    }
}
