using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Power by simulation, drawn again step by step outside of it, and what it refuses.</summary>
public class PowerEdgeTests
{
    private static Count[] Alike(int months, long met, long eligible) => [.. Enumerable.Repeat(new Count(met, eligible, 0), months)];

    private static Func<double> Stream(int seed) => SplitMix64.Uniform((ulong)seed);

    [Theory]
    [InlineData(Better.Down, 0.45)]
    [InlineData(Better.Up, 0.62)]
    [InlineData(Better.Down, 0.05)]
    public void One_simulated_future_is_read_as_a_department_would_be(Better better, double changed)
    {
        Count[] history = [.. Alike(6, 4, 20), .. Alike(6, 5, 24)], reports = Alike(3, 4, 22);
        if (better == Better.Up)
            (history, reports) = ([.. history.Select(Turned)], [.. reports.Select(Turned)]);
        for (var seed = 1; seed <= 12; seed++)
        {
            var uniform = Stream(seed);
            var found = ChangePower.OfHistory(history, reports, changed, better, new(uniform, 9, 1))!;
            // The months to come have the volume of a past month, drawn at random, and events drawn case by case.
            var again = Stream(seed);
            long[] volumes = [.. history.Concat(reports).Select(count => count.Eligible)];
            List<Count> future = [];
            int? noticed = null;
            for (var month = 0; month < 9 && noticed is null; month++)
            {
                var eligible = volumes[(int)(again() * volumes.Length)];
                var bad = Enumerable.Range(0, (int)eligible).Count(_ => again() < (better == Better.Up ? 1 - changed : changed));
                future.Add(new(better == Better.Up ? eligible - bad : bad, eligible, 0));
                if (ChangeOdds.Read(history, [.. reports, .. future], better).State == ChangeState.ChangeSignal)
                    noticed = month;
            }
            Assert.Equal(Enumerable.Range(0, 9).Select(month => month >= noticed ? 1.0 : 0), found.Noticed);
            Assert.Equal(noticed + 1, found.MonthsTo());
        }
        static Count Turned(Count count) => count with { Met = count.Eligible - count.Met };
    }

    [Fact]
    public void A_share_reached_to_the_digit_is_reached_and_the_error_is_that_of_a_proportion()
    {
        ChangeDetection found = new([0.5, 0.75, 0.75], 48);
        Assert.Equal((1, 2, null), (found.MonthsTo(), found.MonthsTo(0.75), found.MonthsTo(0.8)));
        Assert.Equal(0.0625, found.Error(2), 1e-15);
        Assert.Equal(0.75, found.Within(3));
    }

    [Fact]
    public void Histories_of_too_few_cases_notice_nothing_and_count()
    {
        var found = ChangePower.OfPlan(new(1, 0.2, 0.6, 12, 0, Better.Down), new(Stream(3), 5, 40));
        Assert.Equal(40, found.Replicates);
        Assert.Equal([0, 0, 0, 0, 0], found.Noticed);
        Assert.Null(ChangePower.OfHistory(Alike(11, 4, 20), [], 0.5, Better.Down, new(Stream(3))));
    }

    [Fact]
    public void The_budget_of_reports_bounds_the_months_looked_at()
    {
        ChangeOddsOptions options = new() { Horizon = 8 };
        ChangeDetection? After(int reports) =>
            ChangePower.OfHistory(Alike(12, 4, 20), Alike(reports, 4, 20), 0.5, Better.Down, new(Stream(1), Replicates: 2), options);
        Assert.Equal(7, After(1)!.Noticed.Length);
        Assert.Single(After(7)!.Noticed);
        Assert.Null(After(8));
        var plan = new PlannedChange(20, 0.2, 0.5, 12, 3, Better.Down);
        Assert.Equal(5, ChangePower.OfPlan(plan, new(Stream(1), Replicates: 2), options).Noticed.Length);
        Assert.Equal(2, ChangePower.OfPlan(plan, new(Stream(1), 2, 2), options).Noticed.Length);
    }

    [Fact]
    public void What_cannot_be_planned_is_refused_by_name()
    {
        void Refused(string name, Action call) => Assert.Throws<ArgumentOutOfRangeException>(name, call);
        ChangeDetection? Of(double changed = 0.5, int months = 3, int replicates = 2) =>
            ChangePower.OfHistory(Alike(12, 4, 20), [], changed, Better.Down, new(Stream(1), months, replicates));
        ChangeDetection Plan(double volume = 20, double met = 0.2, double changed = 0.5, int history = 12, int stable = 0,
            int months = 3, int replicates = 2) =>
                ChangePower.OfPlan(new(volume, met, changed, history, stable, Better.Down), new(Stream(1), months, replicates));
        Assert.NotNull(Of());
        Refused("changed", () => Of(changed: 1));
        Refused("months", () => Of(months: 0));
        Refused("replicates", () => Of(replicates: 0));
        Assert.NotNull(Plan());
        Refused("volume", () => Plan(volume: 0));
        Refused("met", () => Plan(met: 0));
        Refused("changed", () => Plan(changed: 1));
        Refused("historyMonths", () => Plan(history: 11));
        Refused("stableReports", () => Plan(stable: -1));
        Refused("months", () => Plan(stable: 36));
        Refused("months", () => Plan(months: 0));
        Refused("replicates", () => Plan(replicates: 0));
    }

    [Fact]
    public void A_drawn_count_is_the_first_whose_cumulative_chance_lies_above()
    {
        // Poisson with mean 2: cumulative e^-2 (1, 3, 5, 19/3 ...).
        PoissonDraw draw = new(2);
        var e = Math.Exp(-2);
        Assert.Equal((0, 0, 1, 1, 2, 3),
            (draw.Next(0), draw.Next(e * 0.999), draw.Next(e * 1.001), draw.Next(e * 2.999), draw.Next(e * 3.001), draw.Next(e * 5.001)));
        Assert.Equal(1, draw.Next(e));
        Assert.InRange(draw.Next(1 - 1e-16), 10, 30);
        Assert.Throws<ArgumentOutOfRangeException>("mean", () => new PoissonDraw(700));
    }
}
