using System.Globalization;
using System.Text;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>
/// Closes an action within the text of a file of actions, which a person writes too: lines are added, and every other character stays. What
/// comes out is read again and must say the same but for the closing, so a way of writing that is not understood is refused, never spoilt.
/// </summary>
public static class ActionsEdit
{
    /// <summary>The text with the action closed.</summary>
    /// <param name="text">The file's text.</param>
    /// <param name="shown">Its name in messages.</param>
    /// <param name="closing">What is closed, when, and with what effect.</param>
    /// <param name="ofMinutes">True where the action stands in minutes: an entry that closes it is added.</param>
    /// <exception cref="Failure">The file cannot be edited (exit 3).</exception>
    public static string Close(string text, string shown, ActionClosing closing, bool ofMinutes)
    {
        var before = ActionsFile.Parse(text, shown);
        var lineEnd = text.Contains("\r\n", StringComparison.Ordinal) ? "\r\n" : "\n";
        var isNew = ofMinutes && before.Closings.All(each => each.Id != closing.Id);
        var after = isNew ? Append(text, closing, lineEnd) : Insert(text, shown, closing, lineEnd);
        return Says(after, shown, before, closing, isNew) ? after : throw Failure.Definition(shown, closing.Line,
            "this place is written in a way that the command cannot edit; write `closed` and `effect` by hand");
    }

    private static string Append(string text, ActionClosing closing, string lineEnd)
    {
        var first = text.Split('\n').FirstOrDefault(line => line.TrimStart().StartsWith('-')) ?? "-";
        var indent = first[..^first.TrimStart().Length];
        var apart = text.Length == 0 ? "" : text.EndsWith('\n') ? lineEnd : lineEnd + lineEnd;
        return text + apart + $"{indent}- closes: {closing.Id}{lineEnd}"
            + string.Concat(Pairs(closing).Select(pair => $"{indent}  {pair}{lineEnd}"));
    }

    // Into the entry: behind its last value, or before the brace that ends it.
    private static string Insert(string text, string shown, ActionClosing closing, string lineEnd)
    {
        var node = YamlFile.Read(text, shown).Items().First(item => item.Line == closing.Line);
        var has = node.Pairs().Select(pair => pair.Key).ToHashSet(StringComparer.Ordinal);
        string[] pairs = [.. Pairs(closing).Where(pair => !has.Contains(pair.Split(':')[0]))];
        var end = Math.Min(node.LastEnd, text.Length);
        if (text[node.Start] == '{')
            return text.IndexOf('}', end) is var brace and >= 0
                ? text.Insert(brace, string.Concat(pairs.Select(pair => ", " + pair)))
                : text;
        var indent = new string(' ', node.Start - (text.LastIndexOf('\n', node.Start) + 1));
        // A value over several lines ends where the next thing begins.
        var lineStart = end > 0 && text[end - 1] == '\n' ? end : text.IndexOf('\n', end) + 1;
        return lineStart == 0
            ? text + lineEnd + string.Join(lineEnd, pairs.Select(pair => indent + pair)) + lineEnd
            : text.Insert(lineStart, string.Concat(pairs.Select(pair => indent + pair + lineEnd)));
    }

    private static IEnumerable<string> Pairs(ActionClosing closing)
    {
        yield return string.Create(CultureInfo.InvariantCulture, $"closed: {closing.Closed:yyyy-MM-dd}");
        if (closing.Effect is { } effect)
            yield return $"effect: {Quoted(effect)}";
    }

    // In double quotes nothing of a text acts: no key, no comment, no other type.
    private static string Quoted(string text)
    {
        var quoted = new StringBuilder("\"");
        foreach (var c in text)
            _ = c is '"' or '\\' ? quoted.Append('\\').Append(c)
                : char.IsControl(c) || ActingCharacters.Holds(c) ? quoted.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:X4}")
                : quoted.Append(c);
        return quoted.Append('"').ToString();
    }

    private static bool Says(string text, string shown, ActionList before, ActionClosing closing, bool isNew)
    {
        try
        {
            var after = ActionsFile.Parse(text, shown);
            return after.Actions.Select(Told).SequenceEqual(before.Actions.Select(each => Told(Closed(each))))
                && after.Closings.Select(Told)
                    .SequenceEqual([.. before.Closings.Select(each => Told(each.Id == closing.Id ? closing : each)),
                        .. isNew ? (string[])[Told(closing)] : []]);
        }
        catch (Failure)
        {
            return false;
        }

        ActionEntry Closed(ActionEntry each) => each.Action.Id != closing.Id ? each
            : each with { Action = each.Action with { Closed = closing.Closed, Effect = closing.Effect } };
    }

    private static string Told(ActionEntry entry) =>
        (entry.Action with { Cases = default }).ToString() + string.Join(';', entry.Action.Cases);

    private static string Told(ActionClosing closing) => (closing with { File = "", Line = 0 }).ToString();
}
