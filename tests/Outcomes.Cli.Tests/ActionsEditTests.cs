using Outcomes.Cli.Definitions;
using Outcomes.Records;

namespace Outcomes.Tests.Cli;

/// <summary>A file of actions that a person writes, and the command closes an action in: all else in it stays, to the character.</summary>
public sealed class ActionsEditTests
{
    private const string Effect = "On \"every\" lid: # yes, since\\March";

    private static readonly DateOnly Day = new(2026, 3, 2);

    [Theory]
    [InlineData("- id: a\n  what: Do it\n  owner: lead nurse\n  due: 2026-03-01\n  opened: 2026-01-05\n")]
    [InlineData("# Head.\n\n- id: a   # why\n  what: Do it\n  owner: lead nurse\n  due: 2026-03-01\n  opened: 2026-01-05  # the meeting\n"
        + "  # a note\n\n# Foot.\n- {id: b, what: More, owner: chair, due: 2026-03-01, opened: 2026-01-05}\n")]
    [InlineData("- {id: a, what: 'Do } it', owner: lead nurse, due: 2026-03-01, opened: 2026-01-05} # why\n")]
    [InlineData("- opened: 2026-01-05\n  owner: lead nurse\n  due: 2026-03-01\n  id: a\n  what: >\n    Do it\n    with care\n\n"
        + "- {id: b, what: More, owner: chair, due: 2026-03-01, opened: 2026-01-05}\n")]
    [InlineData("  - id: a\n    what: Do it\n    owner: lead nurse\n    due: 2026-03-01\n    opened: 2026-01-05")]
    [InlineData("- id: a\r\n  what: Do it\r\n  owner: lead nurse\r\n  due: 2026-03-01\r\n  opened: 2026-01-05\r\n")]
    [InlineData("-\n  id: a\n  what: \"Do it\"\n  owner: lead nurse\n  due: 2026-03-01\n  opened: 2026-01-05\n")]
    [InlineData("- id: a\n  what: Do it\n  owner: lead nurse\n  due: 2026-03-01\n  opened: 2026-01-05\n  cases: [ABCDEF]\n")]
    [InlineData(
        "- id: a\n  what: Do it\n  owner: lead nurse\n  due: 2026-03-01\n  opened: 2026-01-05\n  cases:\n    - ABCDEF\n    - ABCDEG\n")]
    public void Closing_adds_two_lines_or_two_pairs_and_takes_nothing_away(string text)
    {
        var line = ActionsFile.Parse(text, "actions.yaml").Actions.First(entry => entry.Action.Id == "a").Line;
        var after = ActionsEdit.Close(text, "actions.yaml", new("a", Day, Effect, "actions.yaml", line), ofMinutes: false);
        var action = ActionsFile.Parse(after, "actions.yaml").Actions.Single(entry => entry.Action.Id == "a").Action;
        Assert.Equal((Day, Effect), (action.Closed, action.Effect));
        Assert.True(IsWithin(text, after), after);
        Assert.Equal(text.Contains('\r', StringComparison.Ordinal), after.Contains('\r', StringComparison.Ordinal));
        Assert.Equal(after.Split('\n').Length, after.Split(text.Contains('\r', StringComparison.Ordinal) ? "\r\n" : "\n").Length);
    }

    [Theory]
    [InlineData("")]
    [InlineData("# Nothing yet.\n")]
    [InlineData("# Nothing yet.")]
    [InlineData("- {id: b, what: More, owner: chair, due: 2026-03-01, opened: 2026-01-05}\n")]
    [InlineData("  - id: b\n    what: More\n    owner: chair\n    due: 2026-03-01\n    opened: 2026-01-05")]
    [InlineData("- {id: b, what: More, owner: chair, due: 2026-03-01, opened: 2026-01-05}\r\n")]
    public void The_closing_of_an_action_of_minutes_is_an_entry_at_the_end(string text)
    {
        var after = ActionsEdit.Close(text, "actions.yaml", new("2026-01-ABCDEF-1", Day, Effect, "actions.yaml", 0), ofMinutes: true);
        Assert.StartsWith(text, after, StringComparison.Ordinal);
        var closing = Assert.Single(ActionsFile.Parse(after, "actions.yaml").Closings);
        Assert.Equal(("2026-01-ABCDEF-1", Day, Effect), (closing.Id, closing.Closed, closing.Effect));
        Assert.Equal(after.Split('\n').Length, after.Split(text.Contains('\r', StringComparison.Ordinal) ? "\r\n" : "\n").Length);
    }

    [Fact]
    public void An_effect_that_was_not_said_is_added_to_a_closing()
    {
        const string Text = "- closes: 2026-01-ABCDEF-1\n  closed: 2026-03-02\n";
        Assert.Equal(Text + "  effect: \"Done\"\n",
            ActionsEdit.Close(Text, "actions.yaml", new("2026-01-ABCDEF-1", Day, "Done", "actions.yaml", 1), ofMinutes: true));
    }

    // Characters that act instead of showing leave as escapes and come back as they were.
    [Fact]
    public void An_effect_with_characters_that_act_is_written_so_that_they_do_not()
    {
        var after =
            ActionsEdit.Close("", "actions.yaml", new("2026-01-ABCDEF-1", Day, "a\u202eb\u0007\nc 😀", "actions.yaml", 0), ofMinutes: true);
        Assert.DoesNotContain('\u202e', after);
        Assert.Equal("a\u202eb\u0007\nc 😀", Assert.Single(ActionsFile.Parse(after, "actions.yaml").Closings).Effect);
    }

    [Theory]
    [InlineData("- id: a\n  what: Do it\n  owner: lead nurse\n  due: 2026-03-01\n  opened: 2026-01-05\n  closed:\n", false)]
    [InlineData("- opened: 2026-01-05\n  owner: lead nurse\n  due: 2026-03-01\n  id: a\n  what: |\n    Do it", false)]
    [InlineData("[{id: b, what: More, owner: chair, due: 2026-03-01, opened: 2026-01-05}]\n", true)]
    public void What_cannot_be_edited_safely_is_refused_with_the_way_to_do_it_by_hand(string text, bool ofMinutes)
    {
        var failure =
            Assert.Throws<Failure>(() => ActionsEdit.Close(text, "actions.yaml", new("a", Day, "Done", "actions.yaml", 1), ofMinutes));
        Assert.Equal(ExitCode.Definition, failure.Code);
        Assert.Contains("by hand", failure.Message, StringComparison.Ordinal);
    }

    // Every character of the one stands in the other, in order.
    private static bool IsWithin(string text, string longer)
    {
        var at = 0;
        foreach (var c in longer)
            if (at < text.Length && text[at] == c)
                at++;
        return at == text.Length;
    }
}
