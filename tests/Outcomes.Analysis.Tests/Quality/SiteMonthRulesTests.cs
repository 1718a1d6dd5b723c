using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Tests.Analysis;

/// <summary>Limits are the project's own (40 %, 60 %, 30 records, 30 points); the numbers are worked by hand.</summary>
public class SiteMonthRulesTests
{
    private static readonly Month January = new(2026, 1);

    [Theory]
    [InlineData(8, 12, false)] // 8/20 is exactly 40 %
    [InlineData(9, 11, true)]
    [InlineData(9, 10, false)] // 19 known values are too few
    public void Digit_preference_is_more_than_forty_percent_of_twenty(int round, int other, bool seen)
    {
        // Spread over the quarter's months and the three round values, with values missing beside them.
        LevelCount[] levels =
        [
            new(January, "80", 3), new(January.AddMonths(1), "85", 2), new(January.AddMonths(2), "90", round - 5),
            new(January, "93", other), new(January, null, 50), new(January.AddMonths(3), "90", 5),
        ];
        var found = SiteMonthRules.DigitPreference("spo2_min", levels).ToArray();
        Assert.Equal(seen ? 1 : 0, found.Length);
        if (seen) Assert.Equal((January, (long)round, (long)(round + other), SiteGroup.All),
            (found[0].Month, found[0].Seen, found[0].Known, found[0].Site));
    }

    [Theory]
    [InlineData(12, 8, false)] // 12/20 is exactly 60 %
    [InlineData(13, 7, true)]
    [InlineData(19, 0, false)]
    public void Perfect_saturation_is_more_than_sixty_percent_of_twenty(int hundred, int other, bool seen) =>
        Assert.Equal(seen, SiteMonthRules.AlwaysHundred("spo2_min",
            [new(January, "100", hundred), new(January, "97", other), new(January, null, 9)]).Any());

    [Fact]
    public void No_complication_in_thirty_says_how_far_chance_goes()
    {
        // Wilson's upper end of 0/30: z²/(n + z²) = 3.8415/33.8415 = 11.4 %.
        var found = Assert.Single(SiteMonthRules.NoComplication("complication", [new(January, "true", 30), new(January, null, 4)]));
        Assert.Equal(30, found.Known);
        Assert.Equal(3.8415 / 33.8415, found.HighestRate, 1e-4);
        Assert.Equal(Math.Pow(0.9, 30), found.ChanceAtOneInTen, 1e-12);
        Assert.Empty(SiteMonthRules.NoComplication("complication", [new(January, "true", 29)]));
        Assert.Empty(SiteMonthRules.NoComplication("complication", [new(January, "true", 60), new(January, "false", 1)]));
    }

    [Theory]
    [InlineData(10, 20, 20, 20, true)] // 50 to 100 %
    [InlineData(10, 20, 16, 20, false)] // exactly 30 points
    [InlineData(7, 20, 14, 20, false)] // 35 points, but 20 records a month wander that far by chance
    [InlineData(70, 200, 140, 200, true)] // the same 35 points on 200
    [InlineData(10, 19, 20, 20, false)] // too few
    public void A_code_shift_is_more_than_thirty_points_beyond_chance(int was, int before, int now, int after, bool seen)
    {
        LevelCount[] levels =
        [
            new(January, "icu", was), new(January, "ed", before - was), new(January.AddMonths(1), "icu", now),
            new(January.AddMonths(1), "ed", after - now)
        ];
        var found = SiteMonthRules.CodeShift("location_type", levels).ToArray();
        // Of two values both move: each is named.
        Assert.Equal(seen ? 2 : 0, found.Length);
        if (seen)
            Assert.Equal((January.AddMonths(1), "ed", (long)(after - now), (long)after, ((long)(before - was), (long)before)),
                (found[0].Month, found[0].Level, found[0].Seen, found[0].Known, found[0].Before));
    }

    [Fact]
    public void Sites_are_judged_apart_where_each_has_enough_and_the_small_ones_together()
    {
        // Together 22 of 75 are on the round numbers, 29 %; site N alone 12 of 25; the small sites 8 of 20 and then 9 of 20.
        LevelCount[] Levels(int round) =>
        [
            new(January, "90", 12) { Site = "N" }, new(January, "93", 13) { Site = "N" },
            new(January, "90", 2) { Site = "S" }, new(January, "93", 28) { Site = "S" },
            new(January, "85", round) { Site = "T" }, new(January, "94", 6 - round) { Site = "T" },
            new(January, "80", 0) { Site = "U" }, new(January, "94", 6) { Site = "U" }, new(January, "90", 5), new(January, "94", 3),
        ];
        Assert.Equal([("N", false, 12L, 25L)], SiteMonthRules.DigitPreference("spo2_min", Levels(3)).Select(Told));
        Assert.Equal([(null, true, 9L, 20L), ("N", false, 12L, 25L)], SiteMonthRules.DigitPreference("spo2_min", Levels(4)).Select(Told));
        Assert.Equal([("N", false, 0L, 30L)], SiteMonthRules.NoComplication("complication",
            [new(January, "true", 30) { Site = "N" }, new(January, "true", 30) { Site = "S" }, new(January, "false", 1) { Site = "S" }])
            .Select(Told));
        Assert.Equal([(null, false, 0L, 30L)],
            SiteMonthRules.NoComplication("complication", [new(January, "true", 30) { Site = "N" }]).Select(Told));

        static (string? Site, bool IsOthers, long Seen, long Known) Told(SiteMonth seen) =>
            (seen.Site.Site, seen.Site.IsOthers, seen.Seen, seen.Known);
    }

    [Theory]
    [InlineData(40, 0.20, 0.021)]
    [InlineData(60, 0.35, 0.011)]
    public void The_chance_of_a_false_alarm_is_at_most_what_the_text_says(int percent, double truly, double said)
    {
        // Exact binomial tails by Pascal's rule, from 20 values (the fewest judged) to 400.
        double[] row = [1];
        var worst = 0.0;
        for (var n = 1; n <= 400; n++)
        {
            var next = new double[n + 1];
            for (var k = 0; k <= n; k++) next[k] = (k < n ? row[k] * (1 - truly) : 0) + (k > 0 ? row[k - 1] * truly : 0);
            row = next;
            if (n >= SiteMonthRules.Fewest) worst = Math.Max(worst, row.Where((_, k) => k * 100 > percent * n).Sum());
        }

        Assert.InRange(worst, said - 0.001, said);
        Assert.InRange(Math.Pow(0.9, SiteMonthRules.FewestWithoutComplication), 0.042, 0.043);
    }

    [Fact]
    public void A_code_shift_by_chance_is_as_rare_as_the_text_says()
    {
        // Two months of 20 records with one true share: the exact chance that the rule speaks, over shares from 5 to 95 %.
        var speaks = new bool[21, 21];
        for (var was = 0; was <= 20; was++)
            for (var now = 0; now <= 20; now++)
                speaks[was, now] = SiteMonthRules.CodeShift("c", [new(January, "a", was), new(January, "b", 20 - was),
                    new(January.AddMonths(1), "a", now), new(January.AddMonths(1), "b", 20 - now)]).Any();
        double Of(double p, int k) => MathNet.Numerics.Distributions.Binomial.PMF(p, 20, k);
        var worst = Enumerable.Range(1, 19).Max(i => Enumerable.Range(0, 21)
            .Sum(was => Enumerable.Range(0, 21).Sum(now => speaks[was, now] ? Of(i / 20.0, was) * Of(i / 20.0, now) : 0)));
        Assert.InRange(worst, 0.0001, 0.001);
    }

    [Fact]
    public void Months_apart_are_not_compared() =>
        Assert.Empty(SiteMonthRules.CodeShift("location_type", [new(January, "icu", 50), new(January.AddMonths(2), "ed", 50)]));
}
