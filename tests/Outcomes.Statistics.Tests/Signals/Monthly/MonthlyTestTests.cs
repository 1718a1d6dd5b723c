using System.Collections.Immutable;
using System.Text.Json;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class MonthlyTestTests
{
    internal static EventCount[] Alike(int months, int events, int cases) => [.. Enumerable.Repeat(new EventCount(events, cases), months)];

    [Theory]
    [InlineData(11, 20)]
    [InlineData(12, 3)]
    public void Eleven_months_or_39_cases_are_too_few_to_judge(int months, int cases)
    {
        var result = MonthlyTest.Run([.. Alike(months, 1, cases), .. Alike(5, 1, 3)], months);
        Assert.True(result.IsTooFew);
        Assert.Equal((months, months * cases), (result.HistoryMonths, result.History.Cases));
        Assert.Empty(result.Reports);
        Assert.Empty(result.Levels);
        Assert.Null(result.Current);
        Assert.Null(result.CurrentSignal);
    }

    [Fact]
    public void History_lasts_until_it_holds_40_cases()
    {
        Assert.Equal(20, MonthlyTest.CountHistory(Alike(30, 1, 2), 12));
        Assert.Equal(12, MonthlyTest.CountHistory(Alike(30, 1, 4), 3));
        Assert.Equal(15, MonthlyTest.CountHistory(Alike(30, 1, 4), 15));
        Assert.Null(MonthlyTest.CountHistory(Alike(30, 0, 1), 12));
        Assert.Null(MonthlyTest.CountHistory(Alike(11, 1, 10), 12));
    }

    [Fact]
    public void A_history_without_reports_gives_a_level_and_limits_and_no_signal()
    {
        var result = MonthlyTest.Run([.. Alike(12, 2, 10)], 12);
        Assert.Empty(result.Reports);
        Assert.Empty(result.Signals);
        Assert.Equal(12, result.Levels.Length);
        Assert.Equal(result.AtHistoryEnd!.Median, result.Current!.Median);
        Assert.InRange(0.2, result.Current.Likely80.Lower, result.Current.Likely80.Upper);
        Assert.Equal(new(0, 0), result.ThanHistory);
        Assert.Null(result.ThanYearAgo);
    }

    [Theory]
    [InlineData(14, true)]
    [InlineData(0, false)]
    public void A_large_change_is_signalled_with_its_way_and_month(int later, bool worse)
    {
        var result = MonthlyTest.Run([.. Alike(34, 6, 30), .. Alike(12, later, 30)], 24);
        var signal = Assert.Single(result.Signals);
        Assert.Equal(worse, signal.ForTheWorse);
        Assert.InRange(signal.Month, 34, 38);
        Assert.InRange(34, signal.Start.From, signal.Start.To);
        Assert.InRange(signal.Start.Chance, 0.8, 1);
        Assert.InRange(later / 30.0, result.Current!.Likely95.Lower - 0.01, result.Current.Likely95.Upper);
        var month = result.Levels[34];
        Assert.True((worse ? month.ChanceOfRise : month.ChanceOfFall) > 0.5);
        Assert.True((worse ? result.ThanHistory!.Value.ChanceWorse : result.ThanHistory!.Value.ChanceBetter) > 0.95);
        Assert.Same(signal, result.CurrentSignal);
    }

    [Fact]
    public void A_relapse_signals_again_and_the_first_signal_ends()
    {
        // 21 % bad, then 8 % for 18 months, then 21 % again: 50 cases a month.
        ImmutableArray<EventCount> months = [.. Alike(30, 10, 50), .. Alike(18, 4, 50), .. Alike(12, 11, 50)];
        var result = MonthlyTest.Run(months, 24);
        Assert.Equal([false, true], result.Signals.Select(signal => signal.ForTheWorse));
        Assert.InRange(result.Signals[0].Month, 30, 40);
        Assert.InRange(result.Signals[1].Month, 48, 55);
        Assert.True(result.Signals[0].IsCurrentAt(result.Signals[0].Month + 11));
        Assert.False(result.Signals[0].IsCurrentAt(result.Signals[0].Month + 12));
        Assert.Equal(result.Signals[1], result.CurrentSignal);
    }

    [Fact]
    public void A_signal_ends_early_when_its_level_has_probably_gone_back()
    {
        ImmutableArray<EventCount> months = [.. Alike(36, 6, 30), .. Alike(4, 15, 30), .. Alike(6, 5, 30)];
        var result = MonthlyTest.Run(months, 24);
        var signal = result.Signals[0];
        Assert.True(signal.ForTheWorse);
        var low = Enumerable.Range(1, signal.StillBeyond.Length - 1).First(i => signal.StillBeyond[i] < 0.8);
        Assert.InRange(low, 1, 10);
        Assert.True(signal.IsCurrentAt(signal.Month + low - 1));
        Assert.False(signal.IsCurrentAt(signal.Month + low));
        Assert.False(signal.IsCurrentAt(signal.Month - 1));
    }

    [Fact]
    public void Chance_of_still_being_beyond_is_that_of_the_series_cut_there()
    {
        ImmutableArray<EventCount> months = [.. Alike(36, 6, 30), .. Alike(12, 14, 30)];
        var signal = MonthlyTest.Run(months, 24).Signals[0];
        Assert.Equal(Math.Min(12, 48 - signal.Month), signal.StillBeyond.Length);
        for (var later = signal.Month; later < signal.Month + signal.StillBeyond.Length; later++)
        {
            var cut = MonthlyTest.Run(months[..(later + 1)], 24).Signals[0];
            Assert.Equal(signal.Start, cut.Start);
            Assert.Equal(signal.StillBeyond[later - signal.Month], cut.StillBeyond[^1], 1e-12);
        }
    }

    [Fact]
    public void More_reports_change_nothing_that_was_said_before()
    {
        ImmutableArray<EventCount> months = [.. Alike(26, 3, 20), .. Alike(8, 9, 20), .. Alike(14, 3, 20)];
        var whole = MonthlyTest.Run(months, 12);
        Assert.True(whole.Signals.Length >= 2);
        for (var end = 12; end <= months.Length; end += 3)
        {
            var part = MonthlyTest.Run(months[..end], 12);
            Assert.Equal(whole.Reports.Take(end - 12), part.Reports);
            Assert.Equal(whole.Signals.Where(signal => signal.Month < end).Select(signal => (signal.Month, signal.Leg, signal.Start)),
                part.Signals.Select(signal => (signal.Month, signal.Leg, signal.Start)));
        }
    }

    [Fact]
    public void After_a_signal_the_early_leg_is_silent()
    {
        var options = MonthlyTestOptions.Joint with { LimitCurve = new(30, 0.55, 0, 0) { AtOne = 30 } };
        ImmutableArray<EventCount> months = [.. Alike(24, 4, 25), .. Alike(18, 9, 25)];
        var signal = Assert.Single(MonthlyTest.Run(months, 24, options).Signals);
        Assert.Equal((SignalLeg.Early, true), (signal.Leg, signal.ForTheWorse));
    }

    [Fact]
    public void The_early_leg_gives_no_signal_after_its_last_report()
    {
        ImmutableArray<EventCount> months = [.. Alike(24, 4, 25), .. Alike(18, 8, 25)];
        ImmutableArray<MonthlySignal> Signals(int reports) => MonthlyTest.Run(months, 24, MonthlyTestOptions.Joint with
        {
            LimitCurve = new(30, 0.55, 0, 0) { AtOne = 30 },
            EarlyLeg = new() { WorseReports = reports },
        }).Signals;
        var report = Assert.Single(Signals(12)).Month - 24;
        Assert.InRange(report, 2, 11);
        Assert.Single(Signals(report + 1));
        Assert.Empty(Signals(report));
    }

    [Fact]
    public void The_early_leg_takes_no_part_where_the_history_probably_held_a_change()
    {
        ImmutableArray<EventCount> months = [.. Alike(12, 4, 25), .. Alike(30, 9, 25)];
        var result = MonthlyTest.Run(months, 24);
        Assert.True(result.HistoryUnchanged < 0.85);
        Assert.Empty(result.Signals);
        // The change odds alone take the hidden step for one among the reports.
        Count[] counts = [.. months.Select(month => new Count(month.Events, month.Cases, 0))];
        Assert.Equal(ChangeState.ChangeSignal, ChangeOdds.Read(counts[..24], counts[24..], Better.Down).State);
    }

    [Fact]
    public void Result_survives_a_file()
    {
        var result = MonthlyTest.Run([.. Alike(34, 6, 30), .. Alike(12, 14, 30)], 24);
        var json = JsonSerializer.Serialize(result);
        Assert.Equal(json, JsonSerializer.Serialize(JsonSerializer.Deserialize<MonthlyTestResult>(json)));
    }

    [Fact]
    public void Impossible_input_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => MonthlyTest.Run([.. Alike(12, 3, 10), new(3, 2)], 12));
        Assert.Throws<ArgumentOutOfRangeException>(() => MonthlyTest.Run([.. Alike(12, 3, 10)], 13));
        Assert.Throws<ArgumentOutOfRangeException>(() => MonthlyTest.Run([.. Alike(12, 3, 10)], 12, new() { Pace = Pace.Proof }));
        Assert.Throws<ArgumentException>("expected", () => MonthlyTest.Run([.. Alike(12, 3, 10)], 12, null, [[0.5]]));
    }

    [Fact]
    public void Limits_lower_after_a_signal_find_a_relapse_sooner_and_touch_nothing_before_it()
    {
        var lower = MonthlyTestOptions.Joint with { LowerAfterSignal = 1.5 };
        ImmutableArray<EventCount> months =
            [.. Alike(30, 10, 50), .. Alike(18, 4, 50), .. Alike(12, 8, 50)];
        MonthlyTestResult usual = MonthlyTest.Run(months, 24), sooner = MonthlyTest.Run(months, 24, lower);
        Assert.Equal(usual.Limits, sooner.Limits);
        Assert.Equal(usual.Limits!.Worse - 1.5, sooner.LimitsNow!.Worse, 1e-12);
        Assert.Equal(usual.Signals[0].Month, sooner.Signals[0].Month);
        Assert.InRange(sooner.Signals[1].Month, 48, 59);
        Assert.True(usual.Signals.Length == 1 || usual.Signals[1].Month > sooner.Signals[1].Month);
    }
}
