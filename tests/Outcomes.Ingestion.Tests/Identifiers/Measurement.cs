using System.Globalization;
using System.Text;
using Bogus;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>How much to draw.</summary>
internal sealed record Sizes(int Planted, int PlantedFiles, int CleanFiles, int CleanCells);

/// <summary>
/// The detectors measured on the corpus: cells and columns found, clean files refused, clean cells taken for identifiers. Drawn in
/// parts with a seed each, so that two workers give the same figures as one.
/// </summary>
internal sealed class Measurement
{
    private const int Parts = 20;

    private readonly Sizes _sizes;
    private readonly int[,] _cells = new int[Parts, Corpus.Kinds.Length];
    private readonly int[,] _refused = new int[Parts, CorpusFiles.Planted.Length];
    private readonly int[,] _noticed = new int[Parts, CorpusFiles.Planted.Length];
    private readonly Dictionary<string, int>[] _falsely = [.. Enumerable.Range(0, Parts).Select(_ => new Dictionary<string, int>())];
    private readonly Dictionary<string, int>[] _blanked = [.. Enumerable.Range(0, Parts).Select(_ => new Dictionary<string, int>())];
    private readonly Dictionary<string, int>[] _mentioned = [.. Enumerable.Range(0, Parts).Select(_ => new Dictionary<string, int>())];

    public Measurement(int seed, Sizes sizes, int workers, Action<string>? tell = null)
    {
        (_sizes, Seed) = (sizes, seed);
        Parallel.For(0, Parts, new ParallelOptions { MaxDegreeOfParallelism = workers },
            part => Part(part, Corpus.Fakers((seed * 1000) + part), tell));
    }

    public int Seed { get; }

    public int Of => _sizes.Planted / Parts * Parts;

    public int FilesOf => _sizes.PlantedFiles / Parts * Parts;

    public IEnumerable<(string Kind, int Found)> Cells => Corpus.Kinds.Select((kind, i) => (kind, Sum(_cells, i)));

    public IEnumerable<(string Kind, int Refused, int Noticed)> Columns =>
        CorpusFiles.Planted.Select((column, i) => (column.Kind, Sum(_refused, i), Sum(_noticed, i)));

    /// <summary>Clean files refused, by column and rule.</summary>
    public SortedDictionary<string, int> FalselyRefused => Sum(_falsely);

    /// <summary>Clean cells that would be made missing in a column that is read, by kind of cell and rule.</summary>
    public SortedDictionary<string, int> FalselyBlanked => Sum(_blanked);

    /// <summary>Clean cells counted in a finding on a column that is not read.</summary>
    public SortedDictionary<string, int> FalselyMentioned => Sum(_mentioned);

    public int CleanFiles => _sizes.CleanFiles / Parts * Parts;

    public int CleanCells => _sizes.CleanCells / Parts * Parts;

    public string Table()
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture,
            $"seed {Seed}\n\n| planted in a cell | found | of | recall |\n| --- | --- | --- | --- |\n");
        foreach (var (kind, found) in Cells)
            text.Append(CultureInfo.InvariantCulture, $"| {kind} | {found} | {Of} | {(double)found / Of:P1} |\n");
        text.Append("\n| planted in a column | refused | refused or warned of | of |\n| --- | --- | --- | --- |\n");
        foreach (var (kind, refused, noticed) in Columns)
            text.Append(CultureInfo.InvariantCulture,
                $"| {kind} | {refused} ({(double)refused / FilesOf:P1}) | {noticed} ({(double)noticed / FilesOf:P1}) | {FilesOf} |\n");
        Sums(text, "clean files refused", FalselyRefused, CleanFiles, 1000);
        Sums(text, "clean cells blanked where read", FalselyBlanked, CleanCells, 10_000);
        Sums(text, "clean cells mentioned where not read", FalselyMentioned, CleanCells, 10_000);
        return text.ToString();
    }

    private void Part(int part, Faker[] fakers, Action<string>? tell)
    {
        for (var kind = 0; kind < Corpus.Kinds.Length; kind++)
            for (var i = 0; i < _sizes.Planted / Parts; i++)
            {
                var text = Corpus.Planted(Corpus.Kinds[kind], fakers);
                if (Found(text, IdentifierSets.OfUnread) != Identifier.None) _cells[part, kind]++;
                else tell?.Invoke($"missed | {Corpus.Kinds[kind]} | {text}");
            }

        for (var kind = 0; kind < CorpusFiles.Planted.Length; kind++)
            for (var i = 0; i < _sizes.PlantedFiles / Parts; i++)
            {
                var (text, heading) = CorpusFiles.PlantedFile(kind, fakers);
                var (refusal, noted) = Read(text);
                if (refusal is not null) _refused[part, kind]++;
                if (refusal is not null || noted.Contains(heading)) _noticed[part, kind]++;
                else tell?.Invoke($"missed file | {CorpusFiles.Planted[kind].Kind} | {text.Split('\n')[1]}");
            }

        for (var i = 0; i < _sizes.CleanFiles / Parts; i++)
            if (Read(CorpusFiles.CleanFile(fakers[0])).Refusal is { } failure)
                Count(_falsely[part], failure[..failure.IndexOf("; ", StringComparison.Ordinal)], tell);
        for (var i = 0; i < _sizes.CleanCells / Parts; i++)
        {
            var (kind, draw) = Drawn(fakers[0]);
            var text = draw(fakers[0]);
            if (Found(text, IdentifierSets.All) is var blanked and not Identifier.None)
                Count(_blanked[part], $"{kind}: {Id(blanked)}", tell, text);
            if (Found(text, IdentifierSets.OfUnread) is var mentioned and not Identifier.None)
                Count(_mentioned[part], $"{kind}: {Id(mentioned)}", tell, text);
        }
    }

    private static (string Kind, Func<Faker, string> Draw) Drawn(Faker faker) => faker.PickRandom(Ingestion.Identifiers.CleanCells.Kinds);

    private static string Id(Identifier found) => IdentifierRules.Id(IdentifierRules.Of(found));

    private static Identifier Found(string text, Identifier asked) => Detect.In(text, asked) & ~IdentifierSets.Counted;

    /// <summary>The refusal of a file, or the columns that findings name.</summary>
    internal static (string? Refusal, HashSet<string> Noted) Read(string text)
    {
        using var place = new Workplace();
        try
        {
            var source = place.Read(text, Maps.Small);
            return (null, [.. Stored.Findings(source).Where(finding => finding.FileColumn >= 0)
                .Select(finding => source.Manifest.Headings[finding.FileColumn])]);
        }
        catch (Failure failure) when (failure.Code == ExitCode.Input)
        {
            return ($"{failure.Rule}: {failure.Message}", []);
        }
    }

    private static void Count(Dictionary<string, int> counts, string what, Action<string>? tell, string text = "")
    {
        counts[what] = counts.GetValueOrDefault(what) + 1;
        tell?.Invoke($"false | {what} | {text}");
    }

    private static void Sums(StringBuilder text, string what, SortedDictionary<string, int> counts, int of, int per)
    {
        var all = counts.Values.Sum();
        text.Append(CultureInfo.InvariantCulture, $"\n{what}: {all} of {of}, {(double)all * per / of:0.0} per {per}\n");
        foreach (var (name, count) in counts.OrderByDescending(pair => pair.Value).ThenBy(pair => pair.Key, StringComparer.Ordinal)
            .Take(40)) text.Append(CultureInfo.InvariantCulture, $"  {count} {name}\n");
    }

    private static int Sum(int[,] counts, int kind) => Enumerable.Range(0, Parts).Sum(part => counts[part, kind]);

    private static SortedDictionary<string, int> Sum(Dictionary<string, int>[] counts) =>
        new(counts.SelectMany(part => part).GroupBy(pair => pair.Key)
            .ToDictionary(group => group.Key, group => group.Sum(pair => pair.Value)), StringComparer.Ordinal);
}
