using Outcomes.Statistics;

namespace Outcomes.Tests;

public class ChangePhasesTests
{
    private static Count[] Alike(int months, long met, long eligible) => [.. Enumerable.Repeat(new Count(met, eligible, 0), months)];

    [Fact]
    public void A_history_without_enough_cases_lasts_longer()
    {
        var phase = Assert.Single(ChangePhases.Read(Alike(30, 1, 2), 12, Better.Down));
        Assert.Equal((0, 20), (phase.HistoryFrom, phase.ReportsFrom));
        Assert.Equal(10, phase.Reading.Months.Length);
        Assert.Equal(ChangeState.NoSignOfChange, phase.Reading.State);
    }

    [Fact]
    public void A_series_with_too_few_cases_is_all_history()
    {
        var phase = Assert.Single(ChangePhases.Read(Alike(30, 0, 1), 12, Better.Down));
        Assert.Equal((30, 0, ChangeState.TooFewToJudge), (phase.ReportsFrom, phase.Reading.Months.Length, phase.Reading.State));
    }

    [Fact]
    public void After_36_quiet_reports_the_last_24_months_are_the_next_history()
    {
        var phases = ChangePhases.Read(Alike(100, 4, 20), 12, Better.Down);
        Assert.Equal([(0, 12), (24, 48), (60, 84)], phases.Select(phase => (phase.HistoryFrom, phase.ReportsFrom)));
        Assert.Equal([36, 36, 16], phases.Select(phase => phase.Reading.Months.Length));
    }

    [Fact]
    public void A_renewed_history_reaches_back_as_far_as_its_cases_do()
    {
        // One case a month: 40 months of history, then 36 reports, whose last 24 months would hold 24 cases.
        var phases = ChangePhases.Read([.. Alike(40, 0, 1), .. Alike(40, 0, 1)], 12, Better.Down);
        Assert.Equal([(0, 40), (36, 76)], phases.Select(phase => (phase.HistoryFrom, phase.ReportsFrom)));
    }

    [Fact]
    public void Nothing_follows_a_signal()
    {
        var phases = ChangePhases.Read([.. Alike(20, 3, 20), .. Alike(80, 14, 20)], 12, Better.Down);
        Assert.Equal(ChangeState.ChangeSignal, Assert.Single(phases).Reading.State);
        Assert.Equal(36, phases[0].Reading.Months.Length);
    }

    [Fact]
    public void A_longer_series_changes_nothing_that_was_said_of_a_month()
    {
        Count[] counts = [.. Enumerable.Range(0, 90).Select(i => new Count(((i * 7) % 5) + 1, 20, 0))];
        var whole = ChangePhases.Read(counts, 12, Better.Up);
        for (var months = 0; months <= counts.Length; months += 7)
            foreach (var (part, later) in ChangePhases.Read(counts[..months], 12, Better.Up).Zip(whole))
                Assert.Equal(later.Reading.Months.Take(part.Reading.Months.Length), part.Reading.Months);
    }
}
