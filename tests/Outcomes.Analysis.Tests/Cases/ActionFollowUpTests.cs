using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Tests.Analysis;

/// <summary>
/// The counts of an action's measure before it was decided and after it was closed; month m after January 2024 holds m of 50.
/// </summary>
public sealed class ActionFollowUpTests
{
    private static readonly Month First = new(2024, 1);

    [Fact]
    public void Six_whole_months_stand_on_either_side_and_the_months_of_deciding_and_closing_on_none()
    {
        var followed = Assert.Single(Follow(new(2025, 9, 30), Action(new(2024, 8, 14), new(2025, 3, 2))));
        Assert.Equal((new Month(2024, 2), new Month(2024, 7)), followed.Before);
        Assert.Equal(new Count(1 + 2 + 3 + 4 + 5 + 6, 300, 0), followed.BeforeCount);
        Assert.Equal((new Month(2025, 4), new Month(2025, 9)), followed.After);
        Assert.Equal(new Count(15 + 16 + 17 + 18 + 19 + 20, 300, 0), followed.AfterCount);
    }

    [Fact]
    public void Where_the_records_begin_later_or_months_are_still_to_come_there_are_fewer()
    {
        var followed = Assert.Single(Follow(new(2025, 12, 31), Action(new(2024, 3, 1), new(2025, 10, 31))));
        Assert.Equal((First, new Month(2024, 2)), followed.Before);
        Assert.Equal((new Month(2025, 11), new Month(2025, 12)), followed.After);
    }

    [Fact]
    public void An_action_of_the_first_month_has_nothing_before_it_and_one_closed_this_month_nothing_after()
    {
        var followed = Assert.Single(Follow(new(2025, 12, 31), Action(new(2024, 1, 5), new(2025, 12, 1))));
        Assert.Null(followed.Before);
        Assert.Null(followed.After);
        Assert.Equal((default, default), (followed.BeforeCount, followed.AfterCount));
    }

    [Fact]
    public void A_month_that_is_not_over_is_left_out() =>
        Assert.Equal(new Month(2025, 11),
            Assert.Single(Follow(new(2025, 12, 30), Action(new(2025, 1, 5), new(2025, 9, 1)))).After!.Value.To);

    [Fact]
    public void An_open_action_has_no_after_and_one_closed_after_as_of_is_open()
    {
        Assert.Null(Assert.Single(Follow(new(2025, 12, 31), Action(new(2025, 1, 5), null))).After);
        var later = Assert.Single(Follow(new(2025, 12, 31), Action(new(2025, 1, 5), new(2026, 1, 1))));
        Assert.Null(later.After);
        Assert.Null(later.Action.Closed);
    }

    // 56/70 and 48/80, 0.2000 (0.0524 to 0.3339): Newcombe RG. Stat Med 1998;17:873-890, table II, example (a), method 10.
    [Fact]
    public void The_difference_after_minus_before_has_the_hybrid_score_interval()
    {
        var followed = Assert.Single(Follow(new(2025, 9, 30), Action(new(2024, 8, 14), new(2025, 3, 2)))) with
        {
            BeforeCount = new(48, 80, 3),
            AfterCount = new(56, 70, 0),
        };
        var difference = followed.Difference!;
        Assert.Equal((0.2, 0.0524, 0.3339, 0.95), (Math.Round(difference.Value, 4), Math.Round(difference.Lower, 4),
            Math.Round(difference.Upper, 4), difference.Level));
        Assert.Null((followed with { AfterCount = new(0, 0, 2) }).Difference);
    }

    [Fact]
    public void It_is_followed_until_six_months_have_passed_since_it_was_closed()
    {
        Assert.Single(Follow(new(2025, 12, 31), Action(new(2024, 8, 14), new(2025, 6, 30))));
        Assert.Empty(Follow(new(2025, 12, 31), Action(new(2024, 8, 14), new(2025, 5, 31))));
    }

    [Fact]
    public void What_is_decided_later_or_names_no_proportion_with_figures_is_not_followed() =>
        Assert.Empty(Follow(new(2025, 12, 31), Action(new(2026, 1, 1), null), Action(new(2025, 1, 5), null) with { Measure = null },
            Action(new(2025, 1, 5), null) with { Measure = "value" }, Action(new(2025, 1, 5), null) with { Measure = "none" }));

    [Fact]
    public void Open_ones_come_first_then_by_due_date_and_id()
    {
        var (open, closed) = (Action(new(2025, 1, 5), null), Action(new(2025, 1, 5), new(2025, 11, 1)));
        var followed = Follow(new(2025, 12, 31), closed with { Id = "z" }, open with { Id = "b" }, open with { Id = "a" },
            open with { Id = "c", Due = new(2025, 2, 1) });
        Assert.Equal(["c", "a", "b", "z"], followed.Select(each => each.Action.Id));
    }

    private static DepartmentAction Action(DateOnly opened, DateOnly? closed) =>
        new("a", "Do it", "airway lead", new(2025, 3, 1), "event", opened, closed, null);

    private static ImmutableArray<ActionFollowUp> Follow(DateOnly asOf, params DepartmentAction[] actions)
    {
        var last = Month.Of(asOf);
        var rows = First.To(last).Select((month, i) => new CountRow("event", month, CountRow.All, CountRow.All, new(i, 50, 0))).ToArray();
        return ActionFollowUp.Follow(new()
        {
            Plan = new()
            {
                Name = "harbour",
                Definitions = new(FieldDictionary.Shipped, [
                    new("event", "Event") { Eligible = "adult", Met = "spo2_min < 90", Direction = Direction.Down },
                    new("none", "None") { Eligible = "adult", Met = "spo2_min < 80", Direction = Direction.Down },
                    new("value", "Value") { Kind = MeasureKind.Quantity, Eligible = "adult", Value = "spo2_min" },
                ], [], [], ""),
                Month = last,
                AsOf = asOf,
                Actions = [.. actions],
            },
            Records = rows.ToDictionary(row => row.Month, row => row.Count.Eligible),
            Counts = new([.. rows], [], [], []),
        });
    }
}
