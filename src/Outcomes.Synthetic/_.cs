namespace Outcomes.Synthetic;
