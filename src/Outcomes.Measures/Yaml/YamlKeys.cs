using System.Collections.Immutable;

namespace Outcomes.Measures.Yaml;

/// <summary>
/// The keys that one kind of map may hold. A parser states them once, as a static field: it refuses every other key by this list, and
/// docs/pipeline.md is held to it.
/// </summary>
/// <param name="kind">What the map is: the file, then the keys that lead to it, such as <c>pipeline sources</c>.</param>
/// <param name="names">The keys.</param>
public sealed class YamlKeys(string kind, params ImmutableArray<string> names)
{
    public string Kind => kind;

    public ImmutableArray<string> Names => names;
}
