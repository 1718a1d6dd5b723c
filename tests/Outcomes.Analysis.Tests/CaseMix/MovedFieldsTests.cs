using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Tests.Analysis.CaseMix;

/// <summary>
/// A field that comes to be missing more or less often than in the history hands the measure back to its counts, for good. Invented months:
/// 20 cases each, half of them in the icu.
/// </summary>
public sealed class MovedFieldsTests
{
    private const int History = 12, Cases = 20;

    private static readonly Month First = new(2024, 1);

    private static readonly Measure Event = new("event", "Event") { Eligible = "adult", Met = "spo2_min < 90", Direction = Direction.Down };

    [Theory]
    [InlineData(60, 200, 200, 1000, true)]
    [InlineData(59, 200, 200, 1000, false)]
    [InlineData(6, 20, 20, 100, false)]
    [InlineData(0, 60, 20, 160, true)]
    [InlineData(20, 20, 0, 100, true)]
    [InlineData(0, 0, 20, 100, false)]
    [InlineData(3, 20, 0, 0, false)]
    public void A_share_has_moved_by_ten_points_and_more_than_chance(long missing, long of, long before, long ofBefore, bool moved) =>
        // By hand: 0.30 against 0.20 is ten points; 1.96 √(0.21/200 + 0.16/1000) = 0.068, and with 20 and 100 records 0.216.
        Assert.Equal(moved, MovedFields.HasMoved(missing, of, before, ofBefore));

    [Fact]
    public void Until_it_moved_the_case_mix_is_followed_and_from_then_on_the_counts_decide()
    {
        // 2 of 20 lack the place; from the fifth report on, 8 of 20. Six months: 2+2+2+2+2+8 = 18 of 120 is 15 %, no ten points more; one
        // month later 24 of 120 is.
        foreach (var reports in new[] { 1, 4, 5, 6, 7, 12, 24 })
        {
            var signal = Signal(History + reports, month => month < History + 4 ? 2 : 8);
            if (reports < 6)
            {
                Assert.Equal((MixUse.Followed, null), (signal.Mix, signal.Moved));
                Assert.InRange(signal.Auc!.Value, 0.5, 1);
                Assert.NotNull(signal.CountsAlone);
                continue;
            }

            Assert.Equal(MixUse.FieldMoved, signal.Mix);
            Assert.Equal(new MovedField("location_type", First.AddMonths(17), 24, 120, 24, 240), signal.Moved);
            Assert.Equal((null, null), (signal.Auc, signal.CountsAlone));
            Assert.All(signal.Window!.Reading.Months, month => Assert.Null(month.Expected));
        }
    }

    [Fact]
    public void It_stays_with_the_counts_when_the_field_is_recorded_again()
    {
        var signal = Signal(History + 30, month => month is >= History + 4 and < History + 10 ? 8 : 2);
        Assert.Equal((MixUse.FieldMoved, First.AddMonths(17)), (signal.Mix, signal.Moved!.Since));
    }

    [Fact]
    public void Recording_that_gets_better_moves_a_field_as_well()
    {
        var signal = Signal(History + 12, month => month < History ? 4 : 0);
        // From 20 to 10 % of the last six months, after three of them: 12 of 120 against 48 of 240.
        Assert.Equal(new MovedField("location_type", First.AddMonths(14), 12, 120, 48, 240), signal.Moved);
    }

    [Fact]
    public void A_field_that_the_model_does_not_use_may_move()
    {
        Assert.Equal(MixUse.Followed, Signal(History + 12, _ => 2, other: month => month < History ? 0 : 12).Mix);
    }

    [Fact]
    public void A_new_history_is_a_new_beginning()
    {
        var change = new DeclaredChange(First.AddMonths(20).FirstDay, "New form", ["event"], Direction.Down, NewPhase: true, "");
        var signal = Signal(20 + History + 12, month => month < History + 4 ? 2 : 8, change);
        Assert.Equal((MixUse.Followed, null), (signal.Mix, signal.Moved));
        Assert.Equal(First.AddMonths(20), signal.Window!.HistoryFrom);
    }

    /// <param name="months">Months, the history's 12 first.</param>
    /// <param name="missing">Cases of a month that lack the place, every other one from the icu.</param>
    /// <param name="change">A declared change.</param>
    /// <param name="other">Cases that lack the other field, which never varies where it is known.</param>
    private static MeasureSignal Signal(
        int months, Func<int, int> missing, DeclaredChange? change = null, Func<int, int>? other = null)
    {
        var all = Enumerable.Range(0, months)
            .SelectMany(month => Enumerable.Range(0, Cases).Select(i => (Month: month, Case: i))).ToArray();
        // 6 of the 10 icu cases of some months have the event, 1 of the 10 others.
        ImmutableArray<bool> met = [.. all.Select(each => each.Case % 2 == 0 ? each.Case / 2 < 3 + (each.Month % 3) : each.Case == 5)];
        var design = new Design([.. all.Select(each => First.AddMonths(each.Month))], met,
            [
                new("location_type", [.. all.Select(each =>
                    Cases - each.Case <= missing(each.Month) ? null : each.Case % 2 == 0 ? "icu" : "ed")], default),
                new("urgency", [.. all.Select(each => each.Case < (other?.Invoke(each.Month) ?? 0) ? null : "emergency")], default),
            ], []);
        var rows = Enumerable.Range(0, months).Select(month => new CountRow("event", First.AddMonths(month), CountRow.All, CountRow.All,
            new(all.Index().Count(each => each.Item.Month == month && met[each.Index]), Cases, 0))).ToImmutableArray();
        var figures = Analyse.Department(new()
        {
            Plan = new()
            {
                Name = "harbour",
                Definitions = new(FieldDictionary.Shipped, [Event], [], [], ""),
                Month = First.AddMonths(months - 1),
                AsOf = First.AddMonths(months - 1).LastDay,
                Headline = ["event"],
                CaseMix = new(["event"], ["location_type", "urgency"], Shipped: true),
                Changes = change is null ? [] : [change],
            },
            Records = rows.ToDictionary(row => row.Month, row => row.Count.Eligible),
            Counts = new(rows, [], [], []),
            CaseMixDesigns = ImmutableDictionary<string, Design>.Empty.Add("event", design),
        });
        return Assert.Single(figures.Measures).Signal!;
    }
}
