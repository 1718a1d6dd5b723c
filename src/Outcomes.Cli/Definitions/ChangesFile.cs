using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Yaml;

namespace Outcomes.Cli.Definitions;

/// <summary>Reads the changes that a department declares: a list of entries, in any order.</summary>
internal static class ChangesFile
{
    public static readonly YamlKeys Keys = new("change", "date", "what", "measures", "expect", "new_phase", "why");

    /// <summary>The changes in order of their dates, each with the places of the measures that it names.</summary>
    /// <exception cref="Records.Failure">A key is wrong or unknown, or the file is missing (exit 3, file and line).</exception>
    public static ImmutableArray<ChangeEntry> Read(string path, string shown) =>
        [.. YamlFile.ReadPath(path, shown).Items().Select(Entry).OrderBy(entry => entry.Change.Date)];

    private static ChangeEntry Entry(YamlNode node)
    {
        var map = node.Map(Keys);
        PipelineWord[] measures = [.. map.Required("measures").Items().Select(item => new PipelineWord(item.Text(), item.Line))];
        if (measures.Length == 0)
            throw map.Required("measures").Wrong("name at least one measure that the change should move");
        return new ChangeEntry(
            new DeclaredChange(
                map.Required("date").Date(),
                map.Text("what"),
                [.. measures.Select(word => word.Word)],
                map.Required("expect").Choice(("up", Direction.Up), ("down", Direction.Down)),
                map.Optional("new_phase")?.YesNo() ?? false,
                map.Text("why")),
            node.File,
            [.. measures]);
    }
}

/// <summary>A declared change, the file that declares it, and the measures that it names with their lines.</summary>
public sealed record ChangeEntry(DeclaredChange Change, string File, ImmutableArray<PipelineWord> Measures);
