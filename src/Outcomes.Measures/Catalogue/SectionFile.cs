using System.Collections.Immutable;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Measures.Catalogue;

/// <summary>Reads <c>sections.yaml</c>: a list of sections.</summary>
public static class SectionFile
{
    /// <summary>Split over fewer months, a group could point at a person.</summary>
    public const int LeastMonths = 12;

    public static readonly YamlKeys Keys = new("section", "id", "title", "question", "note", "place", "months", "measures", "strata",
        "among", "population", "compare", "trend", "drawing", "agreement");

    public static readonly YamlKeys CompareKeys = new("section compare", "by", "measures", "within");

    public static readonly YamlKeys PairKeys = new("section agreement", "id", "title", "first", "second", "answers");

    public static readonly YamlKeys AnswerKeys = new("section answers", "title", "first", "second");

    private static readonly Lazy<ImmutableArray<SectionDefinition>> FromAssembly =
        new(() => Read(YamlFile.Read(Catalogue.Shipped.Read("sections.yaml"), "sections.yaml")));

    /// <summary>The sections that travel with the tool.</summary>
    public static ImmutableArray<SectionDefinition> Shipped => FromAssembly.Value;

    public static ImmutableArray<SectionDefinition> Read(YamlNode root) => [.. root.Items().Select(Section)];

    /// <summary>
    /// The shipped sections, if asked for, and those in the files at <paramref name="paths"/>. One with the id of a shipped section takes
    /// its place; the others follow.
    /// </summary>
    /// <param name="shipped">Whether to start from the shipped ones.</param>
    /// <param name="paths">Files, as path on disk and as shown in messages.</param>
    /// <exception cref="Failure">A section is wrong, or an id stands twice among the files (exit 3, file and line).</exception>
    public static ImmutableArray<SectionDefinition> Load(bool shipped, IEnumerable<(string Path, string Shown)> paths)
    {
        var own = new Dictionary<string, SectionDefinition>(StringComparer.Ordinal);
        foreach (var section in paths.SelectMany(file => Read(YamlFile.ReadPath(file.Path, file.Shown))))
            if (!own.TryAdd(section.Id, section))
                throw Failure.Definition(section.File, section.Line,
                    $"the section `{section.Id}` is also defined in {own[section.Id].File}:{own[section.Id].Line}; "
                        + "give one of them another id");
        ImmutableArray<SectionDefinition> start = shipped ? Shipped : [];
        ImmutableArray<SectionDefinition> all =
        [
            .. start.Select(section => own.GetValueOrDefault(section.Id) ?? section),
            .. own.Values.Where(section => start.All(each => each.Id != section.Id)),
        ];
        CheckDrawings(all);
        return all;
    }

    private static void CheckDrawings(ImmutableArray<SectionDefinition> all)
    {
        string[] known = [SectionDefinition.Ladder, .. all.Select(section => section.Id)];
        foreach (var section in all)
            if (section.Drawing is { } drawing && !known.Contains(drawing))
                throw Failure.Definition(section.File, section.DrawingLine, $"there is no drawing `{drawing}`: expected "
                    + $"`{SectionDefinition.Ladder}`, or the id of a section whose chart is drawn{Nearest.Suggest(drawing, known)}");
    }

    private static SectionDefinition Section(YamlNode node)
    {
        var map = node.Map(Keys);
        var section = new SectionDefinition(map.Text("id"), map.Text("title"), map.Text("question"))
        {
            Note = map.OptionalText("note") ?? "",
            Place = map.Optional("place")?.Choice(("report", SectionPlace.Report), ("turn", SectionPlace.Turn),
                ("appendix", SectionPlace.Appendix))
                ?? SectionPlace.Report,
            Months = map.Optional("months")?.Integer() ?? LeastMonths,
            Measures = Words(map.Optional("measures")),
            Strata = Words(map.Optional("strata")),
            Among = map.OptionalText("among"),
            Population = map.Optional("population")?.Choice(("children", Population.Children)) ?? Population.AsDefined,
            Compare = map.Optional("compare") is { } compare ? Comparison(compare) : null,
            Trend = map.OptionalText("trend"),
            Drawing = map.OptionalText("drawing"),
            DrawingLine = map.Optional("drawing")?.Line ?? 0,
            Agreement = map.Optional("agreement") is { } pairs ? [.. pairs.Items().Select(Pair)] : [],
            File = node.File,
            Line = node.Line,
        };
        return Checked(section, map);
    }

    private static SectionDefinition Checked(SectionDefinition section, YamlMap map)
    {
        if (!section.Id.All(letter => char.IsAsciiLetterLower(letter) || char.IsAsciiDigit(letter) || letter == '_'))
            throw map.Required("id").Wrong("the id may hold small letters, digits and _ only: it becomes part of the page");
        if (section.Measures.IsEmpty == section.Agreement.IsEmpty)
            throw map.Node.Wrong($"section {section.Id}: give it either `measures` or `agreement`");
        if (section.Months < LeastMonths)
            throw map.Required("months")
                .Wrong($"a section looks at {LeastMonths} months or more: split over less, a group could point at a person");
        if (section.Strata.IsEmpty
            && (map.Optional("among") ?? map.Optional("population") ?? map.Optional("compare") ?? map.Optional("months")) is { } needless)
            throw needless.Wrong("this needs `strata`: without them the measures are listed with their last 12 months");
        if (section.Compare is { } compare && !section.Strata.Contains(compare.By))
            throw map.Required("compare")
                .Wrong($"`{compare.By}` is not among the section's strata{Nearest.Suggest(compare.By, section.Strata)}");
        if (section.Trend is { } trend && !section.Strata.Contains(trend))
            throw map.Required("trend").Wrong($"`{trend}` is not among the section's strata{Nearest.Suggest(trend, section.Strata)}");
        return section;
    }

    private static SectionComparison Comparison(YamlNode node)
    {
        var map = node.Map(CompareKeys);
        return new(map.Text("by"), Words(map.Optional("measures")), Words(map.Optional("within")));
    }

    private static AgreementPair Pair(YamlNode node)
    {
        var map = node.Map(PairKeys);
        ImmutableArray<AgreementAnswer> answers = [.. map.Required("answers").Items().Select(item =>
        {
            var answer = item.Map(AnswerKeys);
            return new AgreementAnswer(answer.Text("title"), answer.Text("first"), answer.Text("second"));
        })];
        return answers.Length >= 2
            ? new(map.Text("id"), map.Text("title"), map.Text("first"), map.Text("second"), answers) { Line = node.Line }
            : throw map.Required("answers").Wrong("two answers at least can agree or differ");
    }

    private static ImmutableArray<string> Words(YamlNode? node) => node is null ? [] : [.. node.Items().Select(item => item.Text())];
}
