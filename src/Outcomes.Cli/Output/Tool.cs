using System.Reflection;

namespace Outcomes.Cli.Output;

/// <summary>The tool itself.</summary>
public static class Tool
{
    public const string Name = "outcomes";

    /// <summary>The version, without the commit: equal versions write equal bytes.</summary>
    public static string Version { get; } =
        (typeof(Tool).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "0").Split('+')[0];

    /// <summary>The cautions that the tool shows wherever its figures are read.</summary>
    public const string Caution =
        "For audit, teaching and improvement only: not a medical device, not for bedside decisions, not for judging an individual.";
}
