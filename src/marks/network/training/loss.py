"""Losses that both networks are taught with."""

import torch
from torch.nn import functional


def heat_loss(logit, target, weight):
    """Focal loss for soft targets, per mark: easy cells hardly count."""
    probability = torch.sigmoid(logit)
    loss = functional.binary_cross_entropy_with_logits(logit, target, reduction="none")
    loss = loss * (target - probability).abs() ** 1.5 * weight
    return loss.sum() / (target > 0.5).sum().clamp(min=20)


def mask_loss(logit, target, weight):
    """Cross-entropy plus Dice over the whole batch."""
    loss = functional.binary_cross_entropy_with_logits(logit, target, reduction="none")
    cross = (loss * weight * (1 + 2 * target)).mean()
    probability = torch.sigmoid(logit) * weight
    target = target * weight
    overlap = 2 * (probability * target).sum() + 1
    dice = 1 - overlap / ((probability**2).sum() + (target**2).sum() + 1)
    return 4 * cross + 0.5 * dice


def weighted_mean(loss, weight):
    """Mean of a loss where its weight is set."""
    return (loss * weight).sum() / weight.sum().clamp(min=20)
