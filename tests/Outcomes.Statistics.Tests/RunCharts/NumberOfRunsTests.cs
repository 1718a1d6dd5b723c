using Outcomes.Statistics;

namespace Outcomes.Tests;

public class NumberOfRunsTests
{
    public static TheoryData<string> Printed => Check.Ids("exact.json", "number_of_runs");

    [Theory]
    [MemberData(nameof(Printed))]
    public void The_number_of_runs_equals_published_values(string id)
    {
        var check = Check.Find("exact.json", id);
        var (first, second) = ((int)check.Integer("first"), (int)check.Integer("second"));
        if (check.Expected.ContainsKey("critical"))
        {
            var critical = Enumerable.Range(2, NumberOfRuns.Most(first, second) - 1)
                .Last(runs => NumberOfRuns.Test(first, second, runs).AtMost <= 0.025);
            check.Holds(("critical", critical));
            return;
        }
        var test = NumberOfRuns.Test(first, second, (int)check.Integer("runs"));
        Assert.True(test.AtLeast > 0.05, "nor does the exact chance say that the order is not random");
        check.Holds(("expected", test.Expected), ("z", test.Z), ("p_one_sided", MathNet.Numerics.Distributions.Normal.CDF(0, 1, -test.Z)));
    }

    [Fact]
    public void Chances_equal_all_orders_counted_and_the_distance_that_of_statsmodels() =>
        // z is 0 within rounding where runs and mean are equal.
        Assert.Equal(3_000, ReferenceTable.Read("runs").Compare(row =>
        {
            var test = NumberOfRuns.Test((int)row.Integer("first"), (int)row.Integer("second"), (int)row.Integer("runs"));
            return [("z", (row.Integer("runs") - test.Expected) / test.Deviation), ("at_most", test.AtMost), ("at_least", test.AtLeast)];
        }));

    [Theory]
    [InlineData(1, 1)]
    [InlineData(1, 9)]
    [InlineData(7, 7)]
    [InlineData(30, 11)]
    public void Chances_sum_to_1_have_the_stated_mean_and_deviation_and_are_symmetric(int first, int second)
    {
        var most = NumberOfRuns.Most(first, second);
        double[] chances = [.. Enumerable.Range(0, most + 1).Select(runs => NumberOfRuns.Chance(first, second, runs))];
        var mean = chances.Select((chance, runs) => chance * runs).Sum();
        var test = NumberOfRuns.Test(first, second, 2);
        Assert.Equal(1, chances.Sum(), 1e-12);
        Assert.Equal(test.Expected, mean, 1e-10);
        Assert.Equal(test.Deviation * test.Deviation, chances.Select((chance, runs) => chance * (runs - mean) * (runs - mean)).Sum(), 1e-9);
        Assert.All(Enumerable.Range(0, most + 1), runs => Assert.Equal(chances[runs], NumberOfRuns.Chance(second, first, runs), 1e-12));
    }

    [Theory]
    [InlineData(10)]
    [InlineData(23)]
    public void Averaged_over_fair_coins_runs_less_one_are_the_crossings_of_a_run_chart(int n)
    {
        var joint = LongestRunAndCrossings.Joint(n);
        for (var crossings = 1; crossings < n; crossings++)
        {
            var coins = Enumerable.Range(1, n - 1)
                .Sum(first => Binomial.Probability(first, n, 0.5) * NumberOfRuns.Chance(first, n - first, crossings + 1));
            Assert.Equal(Enumerable.Range(0, n + 1).Sum(longest => joint[crossings, longest]), coins, 1e-12);
        }
    }

    [Fact]
    public void The_distance_is_0_within_half_a_run_of_the_mean() => Assert.Equal(0, NumberOfRuns.Test(5, 11, 8).Z);

    [Theory]
    [InlineData(0, 5, 2)]
    [InlineData(5, 0, 2)]
    [InlineData(5, 5, 1)]
    [InlineData(5, 5, 11)]
    [InlineData(4, 6, 10)]
    [InlineData(60_000, 40_001, 10)]
    public void Numbers_that_cannot_be_are_refused(int first, int second, int runs) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => NumberOfRuns.Test(first, second, runs));
}
