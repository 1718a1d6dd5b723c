using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>
/// Runs the examples of a pipeline's own measures, rules and flags: a definition that gives another answer than its author
/// expects is wrong.
/// </summary>
public static class ExampleChecks
{
    /// <exception cref="Failure">An example fails (exit 3, at its line).</exception>
    public static void Own(DefinitionSet definitions)
    {
        var shipped = MeasureCatalogue.Shipped.Select(measure => measure.Id).ToHashSet(StringComparer.Ordinal);
        var rules = RuleFile.Shipped.Select(rule => rule.Id).ToHashSet(StringComparer.Ordinal);
        Run(definitions, [.. definitions.Measures.Where(measure => !shipped.Contains(measure.Id))],
            [.. definitions.Rules.Where(rule => !rules.Contains(rule.Id))],
            [.. definitions.Flags.Where(flag => FlagFile.Shipped.All(shipped => shipped.Id != flag.Id))]);
    }

    private static void Run(
        DefinitionSet definitions, ImmutableArray<Measure> measures, ImmutableArray<ConsistencyRule> rules, ImmutableArray<Flag> flags)
    {
        if (measures.All(measure => measure.Examples.IsEmpty) && rules.All(rule => rule.Examples.IsEmpty)
            && flags.All(flag => flag.Examples.IsEmpty)) return;
        foreach (var failed in ExampleRunner.Run(definitions.Dictionary, definitions.Derived, measures, rules, flags))
            throw Failure.Definition(failed.File, failed.Line,
                $"the example of {failed.Owner} expects {failed.Expected} but the definition gives {failed.Found}");
    }
}
