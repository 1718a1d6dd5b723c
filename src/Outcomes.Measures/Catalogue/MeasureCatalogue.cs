using System.Collections.Immutable;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Measures.Catalogue;

/// <summary>The measures of a pipeline.</summary>
public static class MeasureCatalogue
{
    private static readonly Lazy<ImmutableArray<Measure>> FromAssembly = new(() =>
        Union(Catalogue.Shipped.Measures().Select(name => MeasureFile.Read(YamlFile.Read(Catalogue.Shipped.Read(name), name)))));

    /// <summary>The measures that travel with the tool, by id.</summary>
    public static ImmutableArray<Measure> Shipped => FromAssembly.Value;

    /// <summary>The shipped measures, if asked for, and those in the files at <paramref name="paths"/>, in that order.</summary>
    /// <param name="shipped">Whether to start from the shipped ones.</param>
    /// <param name="paths">Files, as path on disk and as shown in messages.</param>
    public static ImmutableArray<Measure> Load(bool shipped, IEnumerable<(string Path, string Shown)> paths) =>
        Union((shipped ? Shipped : []).Concat(paths.Select(file => MeasureFile.Read(YamlFile.ReadPath(file.Path, file.Shown)))));

    /// <summary>The measures together; an id that stands twice is an error.</summary>
    public static ImmutableArray<Measure> Union(IEnumerable<Measure> measures)
    {
        var seen = new Dictionary<string, Measure>(StringComparer.Ordinal);
        foreach (var measure in measures)
            if (!seen.TryAdd(measure.Id, measure))
                throw Failure.Definition(measure.File, measure.Line,
                    $"the measure `{measure.Id}` is also defined in {seen[measure.Id].File}; give one of them another id");
        return [.. seen.Values];
    }
}
