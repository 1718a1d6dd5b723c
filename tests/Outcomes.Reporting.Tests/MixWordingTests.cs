using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting;

/// <summary>
/// What is said where the case mix is followed. Invented months: 20 cases each, a history of 180/240 met, and a change since
/// the second report.
/// </summary>
public class MixWordingTests
{
    private static readonly MeasureFigures FirstPass = Samples.Model().Measures[0];

    private static readonly MeasureFigures Desaturation = Samples.Model().Measures[1];

    [Theory]
    [InlineData(null, null)]
    [InlineData(true, true)]
    [InlineData(false, false)]
    public void Nothing_is_added_where_both_say_the_same(bool? given, bool? alone)
    {
        var report = FirstPass with { Signal = Signal(given, alone, bad: 5, expected: 5) };
        Assert.False(MixWording.Differs(report.Signal!));
        Assert.Equal("", MixWording.Difference(report));
        Assert.DoesNotContain("given the patients", SignalWording.Brief(report.Signal!), StringComparison.Ordinal);
    }

    [Fact]
    public void Counts_that_changed_with_the_patients_are_told_as_that()
    {
        // 60 cases; 8 a month not met where the usual rate, (180 + ½)/(240 + 1), lets 5 and these patients 7.5 be expected.
        var said = Said(FirstPass with { Signal = Signal(null, true, bad: 8, expected: 7.5) });
        Assert.StartsWith("No sign of change. The counts changed (they look lower since about June 2024", said, StringComparison.Ordinal);
        Assert.Contains("but so did the patients: 36/60 in those months, where the history’s rate would give 44.9 whoever the patients "
            + "were, and 37.5 for these patients.", said, StringComparison.Ordinal);
        Assert.EndsWith("For patients like these nothing has changed beyond chance.", said, StringComparison.Ordinal);
    }

    [Fact]
    public void The_patients_are_not_blamed_where_they_explain_little()
    {
        var said = Said(FirstPass with { Signal = Signal(null, true, bad: 8, expected: 5.2) });
        Assert.Contains("The counts alone would give a signal", said, StringComparison.Ordinal);
        Assert.DoesNotContain("so did the patients", said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(2.5, "for the patients changed too, and hid it")]
    [InlineData(5, "The counts alone do not show it")]
    public void A_change_that_only_the_case_mix_shows_says_whether_the_patients_hid_it(double expected, string words)
    {
        var report = FirstPass with { Signal = Signal(true, null, bad: 5.5, expected: expected) };
        var said = Said(report);
        Assert.StartsWith("Change signal: it looks lower than expected for these patients, since about June 2024", said,
            StringComparison.Ordinal);
        Assert.Contains(words, said, StringComparison.Ordinal);
        Assert.EndsWith("given the patients", SignalWording.Brief(report.Signal!), StringComparison.Ordinal);
    }

    [Fact]
    public void Where_less_is_better_met_is_the_event()
    {
        var said = Said(Desaturation with { Signal = Signal(null, true, bad: 8, expected: 7.5, upIsBetter: false) });
        Assert.Contains("they look higher since", said, StringComparison.Ordinal);
        // (60 + ½)/(240 + 1) of 60.
        Assert.Contains("24/60 in those months, where the history’s rate would give 15.1 whoever the patients were, "
            + "and 22.5 for these patients", said, StringComparison.Ordinal);
    }

    [Fact]
    public void Counts_that_look_the_other_way_are_said_to()
    {
        Assert.Contains("The counts alone look the other way (they look higher since",
            Said(FirstPass with { Signal = Signal(true, false, bad: 4, expected: 2) }), StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_names_each_measure_by_how_its_case_mix_is_used()
    {
        var plain = Signal(null, null, 5, 5) with { CountsAlone = null };
        MeasureFigures[] watched =
        [
            FirstPass with { Signal = Signal(null, null, 5, 5) }, Desaturation with { Signal = plain with { Mix = MixUse.NoModel } },
            Desaturation with { Signal = plain with { Mix = MixUse.BaselineWatched } },
            FirstPass with { Signal = plain with { Mix = MixUse.NotAsked } },
        ];
        var said = MixWording.Which(watched);
        Assert.StartsWith("Adjusted for case mix: first-pass success.", said, StringComparison.Ordinal);
        Assert.Contains("Not adjusted for case mix: lowest saturation below 90 %. There is no model", said,
            StringComparison.Ordinal);
        Assert.Contains("Not adjusted for case mix: lowest saturation below 90 %. The model was fitted to months", said,
            StringComparison.Ordinal);
        Assert.Equal("", MixWording.Which([watched[^1]]));
    }

    [Fact]
    public void The_first_page_does_not_pass_over_counts_that_changed_with_the_patients()
    {
        var model = Samples.Model();
        var changed = FirstPageWording.Of(model with
        {
            Measures = [FirstPass with { Signal = Signal(null, true, bad: 8, expected: 7.5) }, .. model.Measures[1..]]
        })
            .Single(statement => statement.Topic == Topic.Changed).Text;
        Assert.Contains("the one headline measure has not crossed its limit for change", changed, StringComparison.Ordinal);
        Assert.Contains("First-pass success: the counts changed (they look lower", changed, StringComparison.Ordinal);
    }

    private static string Said(MeasureFigures report) =>
        $"{SignalWording.Said(report)} {MixWording.Difference(report)}".Replace(Wording.Space, " ", StringComparison.Ordinal);

    /// <param name="given">The way of the signal given the case mix, for the worse or not; null: none.</param>
    /// <param name="alone">That of the counts alone.</param>
    /// <param name="bad">Bad events in each of four reports of 20 cases; halves are rounded down.</param>
    /// <param name="expected">Bad events that the case mix lets expect in each.</param>
    /// <param name="upIsBetter">Whether met is the good answer.</param>
    private static MeasureSignal Signal(bool? given, bool? alone, double bad, double expected, bool upIsBetter = true)
    {
        MeasureSignal Of(bool? worse, double? mix)
        {
            var met = upIsBetter ? 20 - (int)bad : (int)bad;
            var months = Enumerable.Range(0, 4)
                .Select(_ => new ChangeMonth(new Count(met, 20, 0), 1, 0.5, ChangeState.NoSignOfChange) { Expected = mix });
            var change = worse is { } way ? new Change(3, way, new ChangeStart(1, 0, 2, 0.83), null, null) : null;
            var reading = new ChangeReading(change is null ? ChangeState.NoSignOfChange : ChangeState.ChangeSignal, 12,
                new Count(upIsBetter ? 180 : 60, 240, 0), 6, [.. months], change, 0.01);
            return new([new(new Month(2023, 5), new Month(2024, 5), reading)], 0.01, null);
        }
        return Of(given, expected) with { Mix = MixUse.Followed, CountsAlone = Of(alone, null) };
    }
}
