using Outcomes.CaseMix;

namespace Outcomes.Tests;

/// <summary>
/// Low birth weight, 189 births (birthwt of R's MASS): Hosmer DW, Lemeshow S. Applied Logistic Regression, 2nd ed. 2000. The printed
/// numbers are from memory and agree with R's glm, whose digits stand in birthwt.json.
/// </summary>
public class LogisticTests
{
    private static readonly bool[] Low = Data.Yes("birthwt.csv", "low");

    public static double[][] Full =>
        Data.Rows("birthwt.csv", Of("age"), Of("lwt"), Is("race", 2), Is("race", 3), Of("smoke"), Of("ptl"), Of("ht"), Of("ui"), Of("ftv"));

    [Fact]
    public void Five_covariates_give_the_coefficients_and_errors_of_table_2_2()
    {
        var fit = Logistic.Fit(Data.Rows("birthwt.csv", Of("age"), Of("lwt"), Is("race", 2), Is("race", 3), Of("ftv")), Low);
        Data.Near([1.295, -0.024, -0.014, 1.004, 0.433, -0.049], fit.Coefficients.Select(each => each.Value), 5.01e-4, "coefficient");
        Data.Near([1.071, 0.0337, 0.00654, 0.4979, 0.3622, 0.1672], fit.Coefficients.Select(each => each.StandardError),
            5.01e-4, "standard error");
        Assert.Equal(-111.286, fit.LogLikelihood, 3);
    }

    [Fact]
    public void The_reduced_model_gives_table_2_3()
    {
        var fit = Logistic.Fit(Data.Rows("birthwt.csv", Of("lwt"), Is("race", 2), Is("race", 3)), Low);
        Data.Near([0.806, -0.015, 1.081, 0.481], fit.Coefficients.Select(each => each.Value), 5.01e-4, "coefficient");
        Assert.Equal(-111.63, fit.LogLikelihood, 2);
        Assert.Equal(234.672, Logistic.Fit([.. Low.Select(_ => Array.Empty<double>())], Low).Deviance, 3);
    }

    [Fact]
    public void The_full_model_agrees_with_R_to_ten_digits_and_its_profile_intervals_to_four()
    {
        var (fit, r) = (Logistic.Fit(Full, Low, profile: true), Data.Json("birthwt.json").GetProperty("full"));
        Data.Near(r.Numbers("coef"), fit.Coefficients.Select(each => each.Value), 1e-10, "coefficient");
        Data.Near(r.Numbers("se"), fit.Coefficients.Select(each => each.StandardError), 1e-8, "standard error");
        Assert.Equal(201.2848, fit.Deviance, 4);
        Assert.False(fit.Penalised);
        Assert.Null(fit.Coefficients[0].Profile);
        // R interpolates the profile with a spline: four digits are what it gives.
        double[][] profile = [.. r.GetProperty("profile").EnumerateArray()
            .Select(row => row.EnumerateArray().Select(value => value.GetDouble()).ToArray())];
        for (var j = 1; j < profile.Length; j++)
            Data.Near(profile[j], [fit.Coefficients[j].Profile!.Value.Lower, fit.Coefficients[j].Profile!.Value.Upper],
                2e-4, $"profile of {j}");
    }

    [Fact]
    public void Random_problems_agree_with_R_to_eight_digits()
    {
        var cases = Data.Json("random.json").EnumerateArray().ToArray();
        Assert.True(cases.Length >= 80);
        foreach (var (each, i) in cases.Select((each, i) => (each, i)))
        {
            var (rows, met) = Problem(each);
            var (fit, r) = (Logistic.Fit(rows, met), each.GetProperty("fit"));
            Data.Near(r.Numbers("coef"), fit.Coefficients.Select(value => value.Value), 1e-8, $"problem {i}: coefficient");
            Data.Near(r.Numbers("se"), fit.Coefficients.Select(value => value.StandardError), 1e-8, $"problem {i}: standard error");
            Data.Near([r.Number("loglik")], [fit.LogLikelihood], 1e-8, $"problem {i}: log likelihood");
        }
    }

    [Fact]
    public void Wald_intervals_are_z_errors_either_side_at_any_level()
    {
        var fit = Logistic.Fit(Full, Low, level: 0.9);
        foreach (var each in fit.Coefficients)
        {
            // 1.6448536 is the 95 % point of the standard normal, in any table.
            Assert.Equal(each.Value - (1.6448536269514722 * each.StandardError), each.Wald.Lower, 9);
            Assert.Equal(each.Value + (1.6448536269514722 * each.StandardError), each.Wald.Upper, 9);
        }
    }

    [Fact]
    public void A_column_that_is_a_sum_of_others_is_refused_by_number()
    {
        double[][] rows = [[1, 2, 3], [2, 0, 2], [0, 1, 1], [4, 1, 5], [1, 1, 2]];
        Assert.Equal([2], Logistic.Collinear(rows));
        var error = Assert.Throws<ArgumentException>(() => Logistic.Fit(rows, [true, false, true, false, true]));
        Assert.Contains("column 2", error.Message, StringComparison.Ordinal);
        Assert.Equal([0], Logistic.Collinear([[7.0], [7.0]]));
    }

    internal static (double[][] Rows, bool[] Met) Problem(System.Text.Json.JsonElement each) => (
        [.. each.GetProperty("x").EnumerateArray().Select(row => row.EnumerateArray().Select(value => value.GetDouble()).ToArray())],
        [.. each.Numbers("y").Select(value => value == 1)]);

    private static Func<Dictionary<string, double[]>, int, double> Of(string column) => (table, i) => table[column][i];

    private static Func<Dictionary<string, double[]>, int, double> Is(string column, double level) =>
        (table, i) => table[column][i] == level ? 1 : 0;
}
