using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting;

namespace Outcomes.Tests.Reporting.Model;

public sealed class ActionStateTests
{
    private static readonly DateOnly AsOf = new(2026, 3, 31);

    private static readonly Month March = new(2026, 3);

    [Theory]
    [InlineData(30, true, "overdue by 1 day")]
    [InlineData(31, false, "due on this day")]
    public void An_action_is_overdue_from_the_day_after_it_was_due(int day, bool overdue, string said)
    {
        var action = Action(due: new(2026, 3, day));
        Assert.Equal(overdue, action.OverdueAt(AsOf));
        Assert.Equal(said, ActionWording.Standing(action, AsOf).Replace('\u00a0', ' '));
    }

    [Fact]
    public void Overdue_actions_come_first_and_the_sentence_names_them()
    {
        var state = ActionState.Of([Action("b", due: new(2026, 4, 1)), Action("a", due: new(2026, 3, 1)),
            Action("c", closed: new(2026, 3, 2), effect: "done")], AsOf, March);
        Assert.Equal(["a", "b"], state.Open.Select(action => action.Id));
        Assert.Equal("c", Assert.Single(state.Closed).Id);
        Assert.Equal("2 actions are open, 1 overdue: Do a (by 30 days).", ActionWording.Sentence(state).Replace('\u00a0', ' '));
    }

    [Fact]
    public void What_was_decided_or_closed_after_as_of_is_not_known_yet()
    {
        var state =
            ActionState.Of([Action("later", opened: new(2026, 4, 1)), Action("open", closed: new(2026, 4, 2), effect: "x")], AsOf, March);
        Assert.Equal("open", Assert.Single(state.Open).Id);
    }

    [Fact]
    public void A_closed_action_without_an_effect_stays_listed() =>
        Assert.Equal("a", Assert.Single(ActionState.Of([Action("a", closed: new(2025, 6, 1))], AsOf, March).WithoutEffect).Id);

    [Fact]
    public void Without_actions_there_is_nothing_to_say()
    {
        Assert.True(ActionState.Of([], AsOf, March).IsEmpty);
        Assert.Equal("No action is open.", ActionWording.Sentence(ActionState.None));
    }

    private static DepartmentAction Action(
        string id = "a", DateOnly? due = null, DateOnly? opened = null, DateOnly? closed = null, string? effect = null) =>
            new(id, $"Do {id}", "airway lead", due ?? new(2026, 5, 1), null, opened ?? new(2026, 1, 1), closed, effect);
}
